package org.scenespan.sky;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

/**
 * The sun through one local day, from its midnight to the next: what a clock on the spot would show
 * for transit, rise, set and the twilights.
 *
 * <p>The day is that of the place's zone, not of UTC: the algorithm's own example prints a sunset
 * that belongs to the evening before. Which crossings a day has is searched on the position itself,
 * so that the days at the edge of a polar season, with one crossing or three, come out right; their
 * times are those of the algorithm's own appendix A.2 where it has one within a minute.
 *
 * @param place where
 * @param date the local day
 * @param zone the zone whose day it is
 * @param transit when the sun crosses the meridian, highest; none where the zone is so far from the
 *     place's own time that the day has none
 * @param courses how the sun stands to each altitude
 */
public record SunDay(
    Place place,
    LocalDate date,
    ZoneId zone,
    Optional<Instant> transit,
    Map<Horizon, Course> courses) {
  public SunDay {
    courses = Map.copyOf(courses);
  }

  public static SunDay of(Place place, LocalDate date, ZoneId zone) {
    Instant start = date.atStartOfDay(zone).toInstant();
    Instant end = date.plusDays(1).atStartOfDay(zone).toInstant();
    AlgorithmTimes printed = AlgorithmTimes.around(place, start, end);
    Crossings found = Crossings.between(place, start, end);
    Map<Horizon, Course> courses = new EnumMap<>(Horizon.class);
    for (Horizon horizon : Horizon.values()) {
      courses.put(horizon, printed.settle(horizon, found.course(horizon)));
    }
    return new SunDay(place, date, zone, printed.transit(), courses);
  }

  public Course course(Horizon horizon) {
    return courses.get(horizon);
  }

  /** When the day begins. */
  public Instant start() {
    return date.atStartOfDay(zone).toInstant();
  }

  /** When the next day begins; 23 or 25 hours later where the clock is changed. */
  public Instant end() {
    return date.plusDays(1).atStartOfDay(zone).toInstant();
  }

  /** The first crossing upwards: sunrise, or the dawn of a twilight. */
  public Optional<Instant> rising(Horizon horizon) {
    return course(horizon) instanceof Course.Crosses crosses
        ? crosses.rising().stream().findFirst()
        : Optional.empty();
  }

  /** The last crossing downwards: sunset, or the dusk of a twilight. */
  public Optional<Instant> setting(Horizon horizon) {
    return course(horizon) instanceof Course.Crosses crosses
        ? crosses.setting().stream().reduce((earlier, later) -> later)
        : Optional.empty();
  }
}
