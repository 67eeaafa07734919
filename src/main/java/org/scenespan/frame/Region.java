package org.scenespan.frame;

import java.util.Locale;
import org.scenespan.light.Share;

/**
 * The part of the upright picture by which a lapse is ramped.
 *
 * @param label {@code whole}, {@code sky}, {@code land}, or {@code X,Y,W,H} in parts of the picture
 * @param patch where it is
 */
public record Region(String label, Patch patch) {
  /** All of the picture. */
  public static final Region WHOLE = new Region("whole", new Patch(0, 0, 1, 1));

  /** The upper half. */
  public static final Region SKY = new Region("sky", new Patch(0, 0, 1, 0.5));

  /** The lower half. */
  public static final Region LAND = new Region("land", new Patch(0, 0.5, 1, 0.5));

  /** The darkest and the brightest of the part that do not count: a torch, the sun's disc. */
  public static final Share TRIM = new Share(0.05);

  /**
   * Parses a region as it is written.
   *
   * @throws IllegalArgumentException if it is none
   */
  public static Region parse(String text) {
    String body = text.strip().toLowerCase(Locale.ROOT);
    for (Region named : new Region[] {WHOLE, SKY, LAND}) {
      if (named.label.equals(body)) {
        return named;
      }
    }
    String[] parts = body.split(",", -1);
    if (parts.length != 4) {
      throw unknown(text);
    }
    double[] numbers = new double[parts.length];
    try {
      for (int i = 0; i < parts.length; i++) {
        numbers[i] = Double.parseDouble(parts[i].strip());
      }
      return new Region(body, new Patch(numbers[0], numbers[1], numbers[2], numbers[3]));
    } catch (IllegalArgumentException wrong) {
      throw unknown(text);
    }
  }

  private static IllegalArgumentException unknown(String text) {
    return new IllegalArgumentException(
        "\""
            + text
            + "\" is no region: whole, sky, land, or X,Y,W,H in parts of the picture such as"
            + " 0,0.5,1,0.4");
  }
}
