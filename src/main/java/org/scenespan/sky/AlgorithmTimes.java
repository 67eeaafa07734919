package org.scenespan.sky;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import net.e175.klaus.solarpositioning.DeltaT;
import net.e175.klaus.solarpositioning.SPA;
import net.e175.klaus.solarpositioning.SunriseResult;

/**
 * What the algorithm's appendix A.2 gives for the days of universal time around a local day: one
 * rise, transit and set a day, by interpolation and one step of approximation, which at 78° is up
 * to 13 s from where the position itself crosses.
 */
final class AlgorithmTimes {
  /** A time of the algorithm farther than this from a crossing belongs to another crossing. */
  private static final Duration SAME = Duration.ofSeconds(20);

  private final Instant start;
  private final Instant end;
  private final List<Instant> transits = new ArrayList<>();
  private final Map<Horizon, List<Instant>> rising = new EnumMap<>(Horizon.class);
  private final Map<Horizon, List<Instant>> setting = new EnumMap<>(Horizon.class);

  private AlgorithmTimes(Instant start, Instant end) {
    this.start = start;
    this.end = end;
    for (Horizon horizon : Horizon.values()) {
      rising.put(horizon, new ArrayList<>());
      setting.put(horizon, new ArrayList<>());
    }
  }

  static AlgorithmTimes around(Place place, Instant start, Instant end) {
    AlgorithmTimes times = new AlgorithmTimes(start, end);
    LocalDate last = end.atZone(ZoneOffset.UTC).toLocalDate().plusDays(1);
    LocalDate day = start.atZone(ZoneOffset.UTC).toLocalDate().minusDays(1);
    for (; !day.isAfter(last); day = day.plusDays(1)) {
      times.add(place, day);
    }
    return times;
  }

  private void add(Place place, LocalDate day) {
    double[] heights =
        Arrays.stream(Horizon.values()).mapToDouble(Horizon::altitudeDegrees).toArray();
    Map<Double, SunriseResult> results =
        SPA.calculateSunriseTransitSet(
            day.atStartOfDay(ZoneOffset.UTC),
            place.latitude(),
            place.longitude(),
            DeltaT.estimate(day),
            heights);
    transits.add(results.get(Horizon.CIVIL.altitudeDegrees()).transit().toInstant());
    for (Horizon horizon : Horizon.values()) {
      if (results.get(horizon.altitudeDegrees()) instanceof SunriseResult.RegularDay regular) {
        rising.get(horizon).add(regular.sunrise().toInstant());
        setting.get(horizon).add(regular.sunset().toInstant());
      }
    }
  }

  Optional<Instant> transit() {
    return transits.stream().filter(this::isInTheDay).findFirst();
  }

  /** The same course with the algorithm's times where it has them. */
  Course settle(Horizon horizon, Course found) {
    return found instanceof Course.Crosses crosses
        ? new Course.Crosses(
            settle(crosses.rising(), rising.get(horizon)),
            settle(crosses.setting(), setting.get(horizon)))
        : found;
  }

  private List<Instant> settle(List<Instant> found, List<Instant> printed) {
    return found.stream()
        .map(
            at ->
                printed.stream()
                    .filter(this::isInTheDay)
                    .min(Comparator.comparing(other -> apart(at, other)))
                    .filter(other -> apart(at, other).compareTo(SAME) <= 0)
                    .orElse(at))
        .toList();
  }

  private boolean isInTheDay(Instant when) {
    return !when.isBefore(start) && when.isBefore(end);
  }

  private static Duration apart(Instant one, Instant other) {
    return Duration.between(one, other).abs();
  }
}
