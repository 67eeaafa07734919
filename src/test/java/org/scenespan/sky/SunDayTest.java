package org.scenespan.sky;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Rise, transit, set and twilights against printed tables. */
class SunDayTest {
  private static final Duration MINUTE = Duration.ofMinutes(1);
  private static final Duration FIVE_SECONDS = Duration.ofSeconds(5);

  private static void assertNear(LocalTime printed, Instant found, Duration within, String what) {
    OffsetDateTime at = found.atOffset(ZoneOffset.UTC);
    long seconds = Duration.between(printed, at.toLocalTime()).toSeconds();
    // A time just before midnight is near one just after.
    long apart = Math.abs(Math.floorMod(seconds + 43_200, 86_400) - 43_200);
    assertTrue(apart <= within.toSeconds(), what + ": printed " + printed + ", found " + at);
  }

  /** US Naval Observatory, Astronomical Applications Department: a year of each place. */
  @ParameterizedTest
  @ValueSource(
      strings = {"anchorage", "auckland", "brasilia", "longyearbyen", "mcmurdo", "singapore"})
  void keepsToTheNavalObservatorysYear(String city) throws IOException {
    assertKeepsToTheYear(SunTables.almanac("raw/" + city + ".txt"), Horizon.RISE_AND_SET);
    assertKeepsToTheYear(SunTables.almanac("raw/" + city + "-civil.txt"), Horizon.CIVIL);
  }

  private static void assertKeepsToTheYear(SunTables.Almanac almanac, Horizon horizon) {
    assertTrue(almanac.days().size() >= 365, "a whole year was read");
    almanac
        .days()
        .forEach(
            (date, printed) -> {
              // Every day where the seasons turn; elsewhere every fifth, for the time it takes.
              if (Math.abs(almanac.place().latitude()) < 60 && date.getDayOfYear() % 5 != 0) {
                return;
              }
              String what = almanac.place() + " " + date + " " + horizon;
              Course course = SunDay.of(almanac.place(), date, ZoneOffset.UTC).course(horizon);
              if (printed.above) {
                assertEquals(new Course.StaysAbove(), course, what);
              } else if (printed.below) {
                assertEquals(new Course.StaysBelow(), course, what);
              } else {
                Course.Crosses crosses = assertInstanceOf(Course.Crosses.class, course, what);
                assertNear(printed.rising, crosses.rising(), what + " rising");
                assertNear(printed.setting, crosses.setting(), what + " setting");
              }
            });
  }

  private static void assertNear(List<LocalTime> printed, List<Instant> found, String what) {
    assertEquals(printed.size(), found.size(), what + ": printed " + printed + ", found " + found);
    for (int i = 0; i < found.size(); i++) {
      assertNear(printed.get(i), found.get(i), MINUTE, what);
    }
  }

  /** US Naval Observatory, single days, with the named outcomes of the polar seasons. */
  @ParameterizedTest
  @CsvSource({
    "usno_reference_testdata.csv, RISE_AND_SET",
    "usno_reference_testdata_civil.csv, CIVIL",
    "usno_reference_testdata_extreme.csv, RISE_AND_SET"
  })
  void keepsToTheNavalObservatorysDays(String file, Horizon horizon) throws IOException {
    int rows = 0;
    for (String line : Files.readAllLines(SunTables.file(file))) {
      if (line.isBlank() || line.startsWith("#")) {
        continue;
      }
      String[] fields = line.split(",", -1);
      Course course = day(fields).course(horizon);
      switch (fields[3]) {
        case "ALL_DAY" -> assertEquals(new Course.StaysAbove(), course, line);
        case "ALL_NIGHT" -> assertEquals(new Course.StaysBelow(), course, line);
        default -> {
          Course.Crosses crosses = assertInstanceOf(Course.Crosses.class, course, line);
          assertNear(LocalTime.parse(fields[4]), crosses.rising().get(0), MINUTE, line);
          assertNear(LocalTime.parse(fields[5]), crosses.setting().get(0), MINUTE, line);
        }
      }
      rows++;
    }
    assertTrue(rows > 70, "rows read: " + rows);
  }

  /**
   * The reference implementation of the Solar Position Algorithm (spa.c of 2014), four centuries of
   * four cities.
   */
  @Test
  void keepsToTheSolarPositionAlgorithm() throws IOException {
    int rows = 0;
    for (String line : Files.readAllLines(SunTables.file("spa_reference_testdata.csv"))) {
      if (line.isBlank() || line.startsWith("#")) {
        continue;
      }
      String[] fields = line.split(",", -1);
      SunDay day = day(fields);
      Course course = day.course(Horizon.RISE_AND_SET);
      if (fields[3].isEmpty()) {
        assertTrue(!(course instanceof Course.Crosses), line);
      } else {
        Course.Crosses crosses = assertInstanceOf(Course.Crosses.class, course, line);
        assertNear(LocalTime.parse(fields[3]), crosses.rising().get(0), FIVE_SECONDS, line);
        assertNear(LocalTime.parse(fields[4]), day.transit().orElseThrow(), FIVE_SECONDS, line);
        assertNear(LocalTime.parse(fields[5]), crosses.setting().get(0), FIVE_SECONDS, line);
      }
      rows++;
    }
    assertTrue(rows > 100, "rows read: " + rows);
  }

  private static SunDay day(String[] fields) {
    Place place = new Place(Double.parseDouble(fields[1]), Double.parseDouble(fields[2]));
    return SunDay.of(place, LocalDate.parse(fields[0].substring(0, 10)), ZoneOffset.UTC);
  }

  /**
   * Days with their source: NREL's example (Reda and Andreas; the printed sunset 17:20:19 is that
   * of the evening before, the day's own is computed), further runs of spa.c, and the US Naval
   * Observatory's service.
   */
  @ParameterizedTest
  @CsvSource({
    "39.742476, -105.1786, 2003-10-17, -07:00, 5, 06:12:43, , 17:18:51",
    "39.742476, -105.1786, 2003-10-16, -07:00, 5, , , 17:20:19",
    "39.742476, -105.1786, 2015-01-02, America/Denver, 5, 07:21:55, 12:04:45, 16:47:43",
    "39.742476, -105.1786, 2015-08-02, -07:00, 5, 05:00:27, 12:06:58,",
    "-35, 0, 1996-07-05, UTC, 5, 07:08:15, 12:04:36, 17:01:04",
    "-35, 0, 2004-12-04, UTC, 5, 04:38:57, 11:50:22, 19:02:03",
    "35, 0, 1994-01-02, UTC, 5, 07:08:12, , 16:59:55",
    "33.8, -84.4, 2009-09-06, America/New_York, 60, 07:15:00, 13:36:00, 19:56:00",
    "39.917, 116.383, 2015-01-02, Asia/Shanghai, 60, 07:36:00, , 17:00:00",
    "39.917, 116.383, 2015-04-02, Asia/Shanghai, 60, 05:58:00, , 18:39:00",
    "39.917, 116.383, 2015-08-02, Asia/Shanghai, 60, 05:13:00, , 19:28:00",
    "39.917, 116.383, 2015-12-02, Asia/Shanghai, 60, 07:17:00, , 16:50:00"
  })
  void isTheLocalDay(
      double latitude,
      double longitude,
      LocalDate date,
      String zone,
      int withinSeconds,
      LocalTime rise,
      LocalTime transit,
      LocalTime set) {
    SunDay day = SunDay.of(new Place(latitude, longitude), date, ZoneId.of(zone));
    assertLocal(rise, day, day.rising(Horizon.RISE_AND_SET), withinSeconds, "rise");
    assertLocal(transit, day, day.transit(), withinSeconds, "transit");
    assertLocal(set, day, day.setting(Horizon.RISE_AND_SET), withinSeconds, "set");
  }

  /** Defiance, 2019-11-08, and Atlanta, 2009-09-06: US Naval Observatory. */
  @ParameterizedTest
  @CsvSource({
    "41.281944, -84.362778, 2019-11-08, UTC, ASTRONOMICAL, 10:42, 23:59",
    "41.281944, -84.362778, 2019-11-08, UTC, NAUTICAL, 11:15, 23:27",
    "41.281944, -84.362778, 2019-11-08, UTC, CIVIL, 11:48, 22:54",
    "41.281944, -84.362778, 2019-11-08, UTC, RISE_AND_SET, 12:17, 22:25",
    "33.8, -84.4, 2009-09-06, America/New_York, CIVIL, 06:50, 20:21"
  })
  void knowsTheTwilights(
      double latitude,
      double longitude,
      LocalDate date,
      String zone,
      Horizon horizon,
      LocalTime dawn,
      LocalTime dusk) {
    SunDay day = SunDay.of(new Place(latitude, longitude), date, ZoneId.of(zone));
    assertLocal(dawn, day, day.rising(horizon), 60, "dawn");
    assertLocal(dusk, day, day.setting(horizon), 60, "dusk");
  }

  private static void assertLocal(
      LocalTime printed, SunDay day, Optional<Instant> found, int within, String what) {
    if (printed != null) {
      Instant expected = day.date().atTime(printed).atZone(day.zone()).toInstant();
      long apart = Duration.between(expected, found.orElseThrow()).abs().toSeconds();
      assertTrue(apart <= within, what + " " + found + " is not " + expected);
    }
  }

  @Test
  void everyCrossingIsWithinTheDayAndOnTheAltitude() {
    ZoneId zone = ZoneId.of("Europe/Zurich");
    for (LocalDate date : List.of(LocalDate.of(2026, 3, 29), LocalDate.of(2026, 10, 25))) {
      SunDay day = SunDay.of(new Place(46.5, 8), date, zone);
      for (Horizon horizon : Horizon.values()) {
        for (Instant at : List.of(day.rising(horizon).get(), day.setting(horizon).get())) {
          assertTrue(!at.isBefore(day.start()) && at.isBefore(day.end()), horizon + " " + at);
          // Five seconds at 0.17° a minute, the steepest that the sun can go at this latitude.
          double altitude = Sun.at(day.place(), at).altitudeDegrees();
          assertEquals(horizon.altitudeDegrees(), altitude, 0.015, "at " + at);
        }
      }
      assertEquals(date.equals(LocalDate.of(2026, 3, 29)) ? 23 : 25, hours(day));
    }
  }

  private static long hours(SunDay day) {
    return Duration.between(day.start(), day.end()).toHours();
  }

  @Test
  void aWholeYearAtThePoleHasOneSunriseAndOneSunset() {
    int rises = 0;
    int sets = 0;
    Place pole = new Place(90, 0);
    for (LocalDate date = LocalDate.of(2026, 1, 1);
        date.getYear() == 2026;
        date = date.plusDays(1)) {
      if (SunDay.of(pole, date, ZoneOffset.UTC).course(Horizon.RISE_AND_SET)
          instanceof Course.Crosses crosses) {
        rises += crosses.rising().size();
        sets += crosses.setting().size();
      }
    }
    assertEquals(1, rises);
    assertEquals(1, sets);
  }
}
