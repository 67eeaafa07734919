package org.scenespan.bench;

import java.nio.file.Path;
import java.time.Instant;
import java.util.Arrays;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.plan.ramp.LightForecast;
import org.scenespan.rehearsal.LightCurve;
import org.scenespan.rehearsal.LightTable;
import org.scenespan.sky.ClearSky;
import org.scenespan.sky.Place;
import org.scenespan.sky.Sun;

/**
 * A dawn of the benchmark, by seconds.
 *
 * @param name for the table
 * @param light what falls on the scene, clouds of the seed aside
 * @param slow the part of it that a lapse should follow
 * @param forecast what a known place foretells
 */
record LapseLight(String name, double[] light, double[] slow, LightForecast forecast) {
  /** Rows of the local regression that parts a record's slow light from its fast. */
  private static final int SLOW_ROWS = 25;

  /** Below EV −4 the sensor's step of 0.01 lx is more than a tenth of a stop. */
  private static final double SENSOR_FLOOR = -4;

  private static final double ROW_SECONDS = 30;

  int seconds() {
    return light.length;
  }

  /** At an equinox, from nautical twilight to a sun 8° high. */
  static LapseLight sky(double latitude) {
    Place place = new Place(latitude, 0);
    Instant midnight = Instant.parse("2026-03-20T00:00:00Z");
    int from = 0;
    while (altitude(place, midnight.plusSeconds(from)) < -14) {
      from += 5;
    }
    int to = from;
    while (altitude(place, midnight.plusSeconds(to)) < 8) {
      to += 5;
    }
    LightForecast sky = LightForecast.clearSky(place, midnight.plusSeconds(from));
    double[] light = new double[to - from];
    for (int t = 0; t < light.length; t++) {
      light[t] = sky.at(t).value();
    }
    return new LapseLight(
        String.format(java.util.Locale.ROOT, "sky at %.0f°", latitude), light, light, table(light));
  }

  private static double altitude(Place place, Instant when) {
    return Sun.at(place, when).altitudeDegrees();
  }

  private static LightForecast table(double[] light) {
    return seconds -> {
      double at = Math.max(0, Math.min(light.length - 1.000001, seconds));
      int cell = (int) at;
      return new Ev(light[cell] + (at - cell) * (light[cell + 1] - light[cell]));
    };
  }

  /** A measured dawn; the sky that fits it best, with its place and start, is its forecast. */
  static LapseLight measured(Path csv) {
    LightTable table = LightCurve.read(csv);
    double first = table.firstSeconds();
    while (table.at(first).value() < SENSOR_FLOOR) {
      first += ROW_SECONDS;
    }
    int rows = (int) ((table.lastSeconds() - first) / ROW_SECONDS) + 1;
    double[] ev = new double[rows];
    for (int i = 0; i < rows; i++) {
      ev[i] = table.at(first + i * ROW_SECONDS).value();
    }
    double[] slow = LocalParabola.robust(ev, SLOW_ROWS);
    int seconds = (int) ((rows - 1) * ROW_SECONDS);
    double[] light = new double[seconds];
    double[] smooth = new double[seconds];
    for (int t = 0; t < seconds; t++) {
      int i = (int) (t / ROW_SECONDS);
      double share = t / ROW_SECONDS - i;
      light[t] = ev[i] + share * (ev[i + 1] - ev[i]);
      smooth[t] = slow[i] + share * (slow[i + 1] - slow[i]);
    }
    String name = csv.getFileName().toString().replace(".csv", "");
    return new LapseLight(name, light, smooth, fitted(name.substring(5), ev));
  }

  /** The records come from Tübingen; when they start is not in them, so the best start is taken. */
  private static LightForecast fitted(String date, double[] ev) {
    Place place = new Place(48.52, 9.06);
    Instant midnight = Instant.parse(date + "T00:00:00Z");
    double least = Double.POSITIVE_INFINITY;
    Optional<LightForecast> best = Optional.empty();
    for (int start = 7200; start < 6 * 3600; start += 120) {
      double[] off = new double[ev.length];
      for (int i = 0; i < off.length; i++) {
        Instant when = midnight.plusSeconds(start + (long) (i * ROW_SECONDS));
        off[i] = ev[i] - ClearSky.illuminance(Sun.at(place, when)).ev().value();
      }
      double[] sorted = off.clone();
      Arrays.sort(sorted);
      double middle = sorted[sorted.length / 2];
      double sum = Arrays.stream(off).map(it -> Math.min(1, Math.abs(it - middle))).sum();
      if (sum < least) {
        least = sum;
        LightForecast sky = LightForecast.clearSky(place, midnight.plusSeconds(start));
        best = Optional.of(sky);
      }
    }
    double[] light = new double[(int) (ev.length * ROW_SECONDS)];
    for (int t = 0; t < light.length; t++) {
      light[t] = best.get().at(t).value();
    }
    return table(light);
  }
}
