package org.scenespan.frame;

/**
 * Linear red, green and blue of a picture, in any unit; rows from the top.
 *
 * @param width pixels, above 0
 * @param rows three values a pixel
 */
public record Radiance(int width, float[][] rows) {
  /** More pixels than this are refused before any memory is taken for them. */
  public static final int MOST_PIXELS = 64_000_000;

  /** Likewise, so that one line alone cannot claim much. */
  public static final int LONGEST_SIDE = 65_535;

  public Radiance {
    if (!(width > 0 && rows.length > 0)) {
      throw new IllegalArgumentException(
          "its size (" + width + " x " + rows.length + ") must be above 0");
    }
  }

  public int height() {
    return rows.length;
  }

  public float[] row(int y) {
    return rows[y];
  }
}
