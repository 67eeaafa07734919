package org.scenespan.light;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;

/**
 * A shutter time. Computes with the exact time (1/128 s) and shows the engraved one (1/125).
 *
 * @param seconds the exact time, above 0 and at most a day
 */
public record Shutter(double seconds) implements Comparable<Shutter> {
  private static final double LONGEST_SECONDS = 86_400;
  private static final ThirdStops SERIES = series();

  public Shutter {
    if (!(seconds > 0 && seconds <= LONGEST_SECONDS)) {
      throw new IllegalArgumentException(
          "shutter (" + seconds + " s) must be above 0 and at most a day");
    }
  }

  /** The engraved times, step −45 (1/32000 s) to step 24 (240 s), as camera makers round them. */
  private static ThirdStops series() {
    int[] fractions = {
      32000, 25600, 20000, 16000, 12800, 10000, 8000, 6400, 5000, 4000, 3200, 2500, 2000, 1600,
      1250, 1000, 800, 640, 500, 400, 320, 250, 200, 160, 125, 100, 80, 60, 50, 40, 30, 25, 20, 15,
      13, 10, 8, 6, 5, 4
    };
    double[] seconds = {
      0.3, 0.4, 0.5, 0.6, 0.8, 1, 1.3, 1.6, 2, 2.5, 3.2, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30, 40, 50,
      60, 80, 100, 120, 160, 200, 240
    };
    List<Double> nominals = new ArrayList<>();
    for (int fraction : fractions) {
      nominals.add(1.0 / fraction);
    }
    for (double second : seconds) {
      nominals.add(second);
    }
    return new ThirdStops(1, 3, -45, nominals);
  }

  /** The step {@code k} of the third-stop series, exactly 2^(k/3) seconds. */
  public static Shutter ofThird(int k) {
    return new Shutter(SERIES.exact(k));
  }

  /** The time that a written number of seconds means: 0.008 is the step engraved 1/125. */
  public static Shutter ofNominal(double seconds) {
    return new Shutter(SERIES.meaning(new Shutter(seconds).seconds));
  }

  /** Every time of the third-stop series from the shortest to the longest, both included. */
  public static List<Shutter> thirds(Shutter shortest, Shutter longest) {
    List<Shutter> steps = new ArrayList<>();
    for (int k = SERIES.firstStep(); k <= SERIES.lastStep(); k++) {
      double exact = SERIES.exact(k);
      if (exact >= shortest.seconds * 0.999 && exact <= longest.seconds * 1.001) {
        steps.add(new Shutter(exact));
      }
    }
    return steps;
  }

  /** Parses {@code 1/125}, {@code 1/125s}, {@code 0.8s}, {@code 30s}, {@code 2m}, {@code 30}. */
  public static Shutter parse(String text) {
    String expected = "a shutter time such as 1/125, 0.8s or 30s";
    String body = text.strip().toLowerCase(Locale.ROOT);
    double unit = 1;
    if (body.endsWith("ms")) {
      unit = 0.001;
      body = body.substring(0, body.length() - 2);
    } else if (body.endsWith("s")) {
      body = body.substring(0, body.length() - 1);
    } else if (body.endsWith("m")) {
      unit = 60;
      body = body.substring(0, body.length() - 1);
    }
    String[] parts = body.strip().split("/", -1);
    if (parts.length > 2) {
      throw new IllegalArgumentException("\"" + text + "\" is not " + expected);
    }
    double seconds = Numbers.parse(parts[0].strip(), expected, text) * unit;
    if (parts.length == 2) {
      seconds /= Numbers.parse(parts[1].strip(), expected, text);
    }
    if (!(seconds > 0 && seconds <= LONGEST_SECONDS)) {
      throw new IllegalArgumentException("\"" + text + "\" is not " + expected);
    }
    return ofNominal(seconds);
  }

  /** The engraved time in seconds, 0.008 for 1/128 s; the exact one where it has no name. */
  public double nominalSeconds() {
    return SERIES.shown(seconds);
  }

  /** Whether the time is a step of the third-stop series, and which. */
  public OptionalInt third() {
    return SERIES.stepOfExact(seconds);
  }

  /** APEX time value, −log2 t (Exif 2.3x, Annex C). */
  public double tv() {
    return -Math.log(seconds) / Math.log(2);
  }

  @Override
  public int compareTo(Shutter other) {
    return Double.compare(seconds, other.seconds);
  }

  /** As engraved: {@code 1/125 s}, {@code 0.8 s}, {@code 30 s}. */
  @Override
  public String toString() {
    double shown = nominalSeconds();
    double inverse = 1 / shown;
    if (shown < 0.29 && Math.abs(inverse - Math.rint(inverse)) < 0.001 * inverse) {
      return "1/" + Math.round(inverse) + " s";
    }
    String digits =
        shown >= 0.1
            ? String.format(Locale.ROOT, "%.3f", shown)
            : String.format(Locale.ROOT, "%.6f", shown);
    return digits.replaceAll("0+$", "").replaceAll("\\.$", "") + " s";
  }
}
