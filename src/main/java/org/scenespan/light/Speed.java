package org.scenespan.light;

import java.util.Locale;

/**
 * How fast a subject moves.
 *
 * @param metresPerSecond above 0 and at most 10 000
 */
public record Speed(double metresPerSecond) {
  public Speed {
    if (!(metresPerSecond > 0 && metresPerSecond <= 10_000)) {
      throw new IllegalArgumentException(
          "speed (" + metresPerSecond + " m/s) must be above 0 and at most 10000 m/s");
    }
  }

  /** Parses {@code 5km/h}, {@code 1.4m/s} or {@code 1.4} (metres a second). */
  public static Speed parse(String text) {
    String body = text.strip().toLowerCase(Locale.ROOT);
    double unit = body.endsWith("km/h") ? 1 / 3.6 : 1;
    String digits = body.replaceFirst("\\s*(km/h|m/s)$", "");
    return new Speed(Numbers.parse(digits, "a speed such as 5km/h or 1.4m/s", text) * unit);
  }

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%.3g m/s", metresPerSecond);
  }
}
