package org.scenespan.light;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;

/**
 * The size of a sensor and how finely it is divided.
 *
 * @param widthMillimetres the long side, 1 to 200 mm
 * @param heightMillimetres the short side, 1 mm to the width
 * @param columns pixels along the long side, 100 to 100 000
 */
public record SensorFormat(double widthMillimetres, double heightMillimetres, int columns) {
  /** The diagonal of 36 × 24 mm over the 0.03 mm that the trade takes for it. */
  private static final double CIRCLES_IN_DIAGONAL = Math.hypot(36, 24) / 0.03;

  private static final Map<String, double[]> NAMED = named();

  public SensorFormat {
    if (!(heightMillimetres >= 1
        && heightMillimetres <= widthMillimetres
        && widthMillimetres <= 200)) {
      throw new IllegalArgumentException(
          "sensor ("
              + widthMillimetres
              + " x "
              + heightMillimetres
              + " mm) must be 1 to 200 mm, the long side first");
    }
    if (!(columns >= 100 && columns <= 100_000)) {
      throw new IllegalArgumentException("columns (" + columns + ") must be 100 to 100000");
    }
  }

  private static Map<String, double[]> named() {
    Map<String, double[]> named = new LinkedHashMap<>();
    named.put("medium-format", new double[] {43.8, 32.9});
    named.put("full-frame", new double[] {36, 24});
    named.put("aps-c", new double[] {23.5, 15.6});
    named.put("four-thirds", new double[] {17.3, 13});
    named.put("one-inch", new double[] {13.2, 8.8});
    return named;
  }

  /** Parses a trade name, {@code full-frame}, {@code aps-c}, or millimetres, {@code 36x24}. */
  public static SensorFormat parse(String text, int columns) {
    String body = text.strip().toLowerCase(Locale.ROOT);
    double[] sides = NAMED.get(body);
    if (sides == null) {
      String expected = "a sensor such as 36x24 (mm) or " + String.join(", ", NAMED.keySet());
      String[] parts = body.replaceFirst("\\s*mm$", "").split("x", -1);
      if (parts.length != 2) {
        throw new IllegalArgumentException("\"" + text + "\" is not " + expected);
      }
      sides =
          new double[] {
            Numbers.parse(parts[0].strip(), expected, text),
            Numbers.parse(parts[1].strip(), expected, text)
          };
    }
    return new SensorFormat(sides[0], sides[1], columns);
  }

  public double diagonalMillimetres() {
    return Math.hypot(widthMillimetres, heightMillimetres);
  }

  /** From one pixel's middle to the next, in µm. */
  public double pitchMicrometres() {
    return widthMillimetres * 1000 / columns;
  }

  /**
   * The largest blur that still looks sharp in a picture seen whole: 0.03 mm on 36 × 24 mm, and in
   * proportion to the diagonal [practice].
   */
  public double circleMillimetres() {
    return diagonalMillimetres() / CIRCLES_IN_DIAGONAL;
  }

  /** The same in pixels: 5 on 6000 columns. */
  public double circlePixels() {
    return circleMillimetres() * 1000 / pitchMicrometres();
  }

  /** By how much smaller than 36 × 24 mm, along the diagonal. */
  public double crop() {
    return Math.hypot(36, 24) / diagonalMillimetres();
  }

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%.1f x %.1f mm", widthMillimetres, heightMillimetres)
        .replace(".0", "");
  }
}
