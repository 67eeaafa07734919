package org.scenespan.sky;

import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.Month;
import java.time.Year;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The tables of rise and set from outside, as they were printed. */
final class SunTables {
  private static final Path FOLDER = Path.of("../shared/data/sun/sunrise");
  private static final Pattern LOCATION =
      Pattern.compile("Location: ([EW])(\\d+) (\\d+), ([NS])(\\d+) (\\d+)");
  private static final Pattern YEAR = Pattern.compile("for (?:the Sun for )?(\\d{4})\\s*$");

  private SunTables() {}

  static Path file(String name) {
    Path file = FOLDER.resolve(name);
    assumeTrue(Files.exists(file), "the measured tables of the sun are not beside the project");
    return file;
  }

  /** What a table prints for one day, in universal time. */
  static final class Day {
    final List<LocalTime> rising = new ArrayList<>();
    final List<LocalTime> setting = new ArrayList<>();
    boolean above;
    boolean below;
  }

  /** A year of a place. */
  record Almanac(Place place, TreeMap<LocalDate, Day> days) {}

  /**
   * Reads a year's table of the US Naval Observatory: a column a month, a line a day, a second line
   * where something happens twice; {@code ****} or {@code ////} above, {@code ----} or {@code ====}
   * below all day.
   */
  static Almanac almanac(String name) throws IOException {
    List<String> lines = Files.readAllLines(file(name));
    Place place = null;
    int year = 0;
    TreeMap<LocalDate, Day> days = new TreeMap<>();
    for (String line : lines) {
      Matcher location = LOCATION.matcher(line);
      Matcher printed = YEAR.matcher(line.length() > 90 ? line.substring(0, 90) : line);
      if (location.find()) {
        place = place(location);
      }
      if (printed.find()) {
        year = Integer.parseInt(printed.group(1));
      } else if (line.matches("\\d\\d .*")) {
        read(line, year, days);
      }
    }
    return new Almanac(place, days);
  }

  private static Place place(Matcher written) {
    double east = Integer.parseInt(written.group(2)) + Integer.parseInt(written.group(3)) / 60.0;
    double north = Integer.parseInt(written.group(5)) + Integer.parseInt(written.group(6)) / 60.0;
    return new Place(
        written.group(4).equals("S") ? -north : north, written.group(1).equals("W") ? -east : east);
  }

  private static void read(String line, int year, TreeMap<LocalDate, Day> days) {
    int day = Integer.parseInt(line.substring(0, 2));
    for (int month = 1; month <= 12; month++) {
      if (day > Month.of(month).length(Year.isLeap(year))) {
        continue;
      }
      Day row = days.computeIfAbsent(LocalDate.of(year, month, day), date -> new Day());
      String up = column(line, 4 + (month - 1) * 11);
      String down = column(line, 9 + (month - 1) * 11);
      row.above |= up.equals("****") || up.equals("////");
      row.below |= up.equals("----") || up.equals("====");
      time(up).ifPresent(row.rising::add);
      time(down).ifPresent(row.setting::add);
    }
  }

  private static String column(String line, int from) {
    return line.length() <= from ? "" : line.substring(from, Math.min(line.length(), from + 4));
  }

  private static Optional<LocalTime> time(String digits) {
    return digits.matches("\\d{4}")
        ? Optional.of(
            LocalTime.of(
                Integer.parseInt(digits.substring(0, 2)), Integer.parseInt(digits.substring(2))))
        : Optional.empty();
  }
}
