package org.scenespan.sky;

import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A place on the ground, at sea level.
 *
 * @param latitude decimal degrees, north positive, −90 to 90
 * @param longitude decimal degrees from Greenwich, east positive, −180 to 180
 */
public record Place(double latitude, double longitude) {
  private static final Pattern WRITTEN =
      Pattern.compile("\\s*([+-]?\\d+(?:\\.\\d*)?)\\s*,\\s*([+-]?\\d+(?:\\.\\d*)?)\\s*");

  public Place {
    if (!(latitude >= -90 && latitude <= 90)) {
      throw new IllegalArgumentException("latitude (" + latitude + ") must be -90 to 90 degrees");
    }
    if (!(longitude >= -180 && longitude <= 180)) {
      throw new IllegalArgumentException(
          "longitude (" + longitude + ") must be -180 to 180 degrees");
    }
  }

  /** Parses {@code 46.5,8.0}: latitude, then longitude, north and east positive. */
  public static Place parse(String text) {
    Matcher written = WRITTEN.matcher(text);
    if (!written.matches()) {
      throw new IllegalArgumentException(
          "\"" + text + "\" is not a position such as 46.5,8.0 (north and east positive)");
    }
    return new Place(Double.parseDouble(written.group(1)), Double.parseDouble(written.group(2)));
  }

  /** {@code 46.5000° N, 8.0000° E}. */
  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%.4f° %s, %.4f° %s",
        Math.abs(latitude),
        latitude < 0 ? "S" : "N",
        Math.abs(longitude),
        longitude < 0 ? "W" : "E");
  }
}
