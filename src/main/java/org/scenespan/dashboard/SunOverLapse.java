package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TreeMap;
import org.scenespan.sky.Air;
import org.scenespan.sky.Horizon;
import org.scenespan.sky.Place;
import org.scenespan.sky.Sun;
import org.scenespan.sky.SunDay;
import org.scenespan.sky.SunPosition;

/**
 * Where the sun stands while a lapse runs, and when it crosses the horizon and the twilights.
 *
 * @param at the place
 * @param start the instant under the sun at which the first frame is due
 * @param length of the whole lapse
 */
record SunOverLapse(Place at, Instant start, Duration length) {
  /** Positions that are handed over; between two the page draws a line. */
  private static final int POSITIONS = 180;

  /** Crossings are told so long beyond either end, so that the next rise is known before it. */
  private static final Duration BEYOND = Duration.ofHours(12);

  /** A crossing: the sun passes a horizon. */
  private record Crossing(Instant when, Horizon horizon, boolean rising) {}

  void write(ObjectNode node) {
    ArrayNode seconds = node.putArray("seconds");
    ArrayNode altitude = node.putArray("altitude");
    ArrayNode azimuth = node.putArray("azimuth");
    for (int i = 0; i <= POSITIONS; i++) {
      Duration since = length.multipliedBy(i).dividedBy(POSITIONS);
      SunPosition sun = Sun.seen(at, start.plus(since), Air.STANDARD);
      seconds.add(Math.rint(since.toMillis() / 100.0) / 10);
      altitude.add(Math.rint(sun.altitudeDegrees() * 100) / 100);
      azimuth.add(Math.rint(sun.azimuthDegrees() * 10) / 10);
    }
    ArrayNode crossings = node.putArray("crossings");
    for (Crossing each : crossings()) {
      crossings
          .addObject()
          .put("seconds", Duration.between(start, each.when()).toMillis() / 1000.0)
          .put("horizon", each.horizon().name().toLowerCase(Locale.ROOT).replace('_', '-'))
          .put("rising", each.rising());
    }
  }

  private List<Crossing> crossings() {
    ZoneOffset zone = ZoneOffset.ofHours((int) Math.round(at.longitude() / 15));
    Instant from = start.minus(BEYOND);
    Instant to = start.plus(length).plus(BEYOND);
    TreeMap<Instant, Crossing> found = new TreeMap<>();
    LocalDate last = to.atOffset(zone).toLocalDate();
    for (LocalDate day = from.atOffset(zone).toLocalDate(); !day.isAfter(last); ) {
      SunDay sun = SunDay.of(at, day, zone);
      for (Horizon horizon : Horizon.values()) {
        keep(sun.rising(horizon), horizon, true, found);
        keep(sun.setting(horizon), horizon, false, found);
      }
      day = day.plusDays(1);
    }
    return new ArrayList<>(found.subMap(from, true, to, true).values());
  }

  private static void keep(
      Optional<Instant> when, Horizon horizon, boolean rising, TreeMap<Instant, Crossing> found) {
    when.ifPresent(it -> found.put(it, new Crossing(it, horizon, rising)));
  }
}
