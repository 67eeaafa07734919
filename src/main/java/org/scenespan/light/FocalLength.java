package org.scenespan.light;

import java.util.Locale;

/**
 * A lens's focal length.
 *
 * @param millimetres 1 to 5000
 */
public record FocalLength(double millimetres) {
  public FocalLength {
    if (!(millimetres >= 1 && millimetres <= 5000)) {
      throw new IllegalArgumentException(
          "focal length (" + millimetres + " mm) must be 1 to 5000 mm");
    }
  }

  /** Parses {@code 24mm} or {@code 24}. */
  public static FocalLength parse(String text) {
    String body = text.strip().toLowerCase(Locale.ROOT).replaceFirst("\\s*mm$", "");
    return new FocalLength(Numbers.parse(body, "a focal length such as 24mm", text));
  }

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%.1f mm", millimetres).replace(".0 mm", " mm");
  }
}
