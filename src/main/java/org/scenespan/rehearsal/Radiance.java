package org.scenespan.rehearsal;

/**
 * Linear red, green and blue of a picture, in any unit; rows from the top.
 *
 * @param width pixels, above 0
 * @param rows three values a pixel
 */
record Radiance(int width, float[][] rows) {
  /** More pixels than this are refused before any memory is taken for them. */
  static final int MOST_PIXELS = 64_000_000;

  /** Likewise, so that one line alone cannot claim much. */
  static final int LONGEST_SIDE = 65_535;

  Radiance {
    if (!(width > 0 && rows.length > 0)) {
      throw new IllegalArgumentException(
          "its size (" + width + " x " + rows.length + ") must be above 0");
    }
  }

  int height() {
    return rows.length;
  }

  float[] row(int y) {
    return rows[y];
  }
}
