package org.scenespan.sky;

/**
 * Where the centre of the sun's disc stands.
 *
 * @param altitudeDegrees above the horizontal, negative below it, −90 to 90
 * @param azimuthDegrees clockwise from true north, 0 to 360: 90 is east
 */
public record SunPosition(double altitudeDegrees, double azimuthDegrees) {
  public SunPosition {
    if (!(altitudeDegrees >= -90 && altitudeDegrees <= 90)) {
      throw new IllegalArgumentException("altitude (" + altitudeDegrees + ") must be -90 to 90");
    }
    if (!(azimuthDegrees >= 0 && azimuthDegrees <= 360)) {
      throw new IllegalArgumentException("azimuth (" + azimuthDegrees + ") must be 0 to 360");
    }
  }

  /** The point of the compass, one of sixteen: {@code N}, {@code NNE}, {@code NE}, … */
  public String compassPoint() {
    String[] points = {
      "N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW",
      "NNW"
    };
    return points[(int) Math.rint(azimuthDegrees / 22.5) % points.length];
  }
}
