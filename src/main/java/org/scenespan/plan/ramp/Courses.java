package org.scenespan.plan.ramp;

import java.util.Arrays;
import org.scenespan.sky.ClearSky;

/**
 * How the clear light may go. The light of a clear sky depends on the sun's altitude alone, and
 * over two hours the altitude is nearly a straight line in time: so a family has all altitudes and
 * rates of it. Where the place is known, its course stands before the family, for the sky need not
 * be clear.
 */
interface Courses {
  /** The light of each course at a moment, EV. */
  double[] at(double seconds);

  /** How much likelier than each of the others the first course is beforehand, in nats. */
  double firstPrior();

  /**
   * Some of the courses.
   *
   * @param kept their numbers, ascending
   */
  Courses only(int[] kept);

  /** The family from a moment on. */
  static Courses unknown(double anchorSeconds) {
    return Family.from(anchorSeconds);
  }

  /** The forecast of a known place, and the family from a moment on. */
  static Courses known(LightForecast forecast, double anchorSeconds) {
    return new Known(forecast, Family.from(anchorSeconds));
  }

  /** The course of a place before a family, and twenty times as likely as all of it. */
  record Known(LightForecast forecast, Family family) implements Courses {
    private static final double TIMES_AS_LIKELY = 20;

    @Override
    public double[] at(double seconds) {
      double[] others = family.at(seconds);
      double[] light = new double[1 + others.length];
      light[0] = forecast.at(seconds).value();
      System.arraycopy(others, 0, light, 1, others.length);
      return light;
    }

    @Override
    public double firstPrior() {
      return Math.log(TIMES_AS_LIKELY * Math.max(1, family.altitudes().length));
    }

    @Override
    public Courses only(int[] kept) {
      Family left = family.only(Arrays.stream(kept).filter(i -> i > 0).map(i -> i - 1).toArray());
      return kept[0] == 0 ? new Known(forecast, left) : left;
    }
  }

  /**
   * Altitudes and rates.
   *
   * @param anchorSeconds when the sun stands at the altitudes
   * @param altitudes degrees
   * @param rates degrees a minute
   */
  record Family(double anchorSeconds, double[] altitudes, double[] rates) implements Courses {
    private static final int LOWEST = -24;
    private static final int HIGHEST = 19;

    /** Degrees a minute: the equator's sun rises by 0.25, that of 60° by 0.12. */
    private static final double SLOWEST = 0.05;

    private static final double RATE_STEP = 0.01;
    private static final int RATES = 21;

    /** The light by tenths of a degree from −90°. */
    private static final double[] LIGHT = light();

    private static double[] light() {
      double[] light = new double[1801];
      for (int i = 0; i < light.length; i++) {
        light[i] = ClearSky.illuminance(Math.min(90, i / 10.0 - 90)).ev().value();
      }
      return light;
    }

    /** All altitudes by degrees, each with all rates up and down. */
    static Family from(double anchorSeconds) {
      int size = (HIGHEST - LOWEST + 1) * RATES * 2;
      double[] altitudes = new double[size];
      double[] rates = new double[size];
      int i = 0;
      for (int altitude = LOWEST; altitude <= HIGHEST; altitude++) {
        for (int step = 0; step < RATES; step++) {
          for (int way = -1; way <= 1; way += 2) {
            altitudes[i] = altitude;
            rates[i++] = way * (SLOWEST + step * RATE_STEP);
          }
        }
      }
      return new Family(anchorSeconds, altitudes, rates);
    }

    @Override
    public double firstPrior() {
      return 0;
    }

    @Override
    public Family only(int[] kept) {
      double[] high = Arrays.stream(kept).mapToDouble(i -> altitudes[i]).toArray();
      double[] fast = Arrays.stream(kept).mapToDouble(i -> rates[i]).toArray();
      return new Family(anchorSeconds, high, fast);
    }

    @Override
    public double[] at(double seconds) {
      double minutes = (seconds - anchorSeconds) / 60;
      double[] light = new double[altitudes.length];
      for (int i = 0; i < light.length; i++) {
        double altitude = altitudes[i] + rates[i] * minutes;
        double place = Math.max(0, Math.min(1799.999, 10 * (altitude + 90)));
        int cell = (int) place;
        double share = place - cell;
        light[i] = LIGHT[cell] + share * (LIGHT[cell + 1] - LIGHT[cell]);
      }
      return light;
    }
  }
}
