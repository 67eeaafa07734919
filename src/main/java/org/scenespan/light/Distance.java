package org.scenespan.light;

import java.util.Locale;

/**
 * How far something is from the lens.
 *
 * @param metres above 0; infinite for the far end of a landscape
 */
public record Distance(double metres) implements Comparable<Distance> {
  public static final Distance INFINITE = new Distance(Double.POSITIVE_INFINITY);

  public Distance {
    if (!(metres > 0)) {
      throw new IllegalArgumentException("distance (" + metres + " m) must be above 0");
    }
  }

  /** Parses {@code 3m}, {@code 80cm}, {@code 1.5km}, {@code 3} (metres) or {@code infinity}. */
  public static Distance parse(String text) {
    String body = text.strip().toLowerCase(Locale.ROOT);
    if (body.equals("infinity") || body.equals("inf")) {
      return INFINITE;
    }
    String expected = "a distance such as 3m, 80cm, 1.5km or infinity";
    double unit = 1;
    int cut = body.length();
    if (body.endsWith("mm")) {
      unit = 0.001;
      cut -= 2;
    } else if (body.endsWith("cm")) {
      unit = 0.01;
      cut -= 2;
    } else if (body.endsWith("km")) {
      unit = 1000;
      cut -= 2;
    } else if (body.endsWith("m")) {
      cut -= 1;
    }
    return new Distance(Numbers.parse(body.substring(0, cut).strip(), expected, text) * unit);
  }

  public boolean isInfinite() {
    return Double.isInfinite(metres);
  }

  @Override
  public int compareTo(Distance other) {
    return Double.compare(metres, other.metres);
  }

  /** {@code 2.34 m}, {@code 23.4 m}, {@code 234 m}, {@code 2.3 km}, {@code infinity}. */
  @Override
  public String toString() {
    if (isInfinite()) {
      return "infinity";
    }
    if (metres >= 1000) {
      return String.format(Locale.ROOT, "%.1f km", metres / 1000);
    }
    return String.format(
        Locale.ROOT, metres >= 99.95 ? "%.0f m" : metres >= 9.995 ? "%.1f m" : "%.2f m", metres);
  }
}
