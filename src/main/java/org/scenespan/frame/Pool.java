package org.scenespan.frame;

/**
 * Means of luminance over squares of pixels: noise falls by the square's side, so that a tail which
 * drowns pixel by pixel can still be told. Squares that the picture's edge cuts are left out, but
 * for a picture smaller than one square.
 */
final class Pool {
  /** Pixels along a square's side. */
  static final int SIDE = 8;

  private final int columns;
  private final int side;
  private final double[] sums;
  private final LogHistogram.Builder histogram = new LogHistogram.Builder();
  private int rows;

  Pool(int width, int height) {
    side = Math.min(SIDE, Math.min(width, height));
    columns = width / side;
    sums = new double[columns];
  }

  void row(double[] luminance) {
    for (int column = 0, x = 0; column < columns; column++) {
      double sum = 0;
      for (int i = 0; i < side; i++) {
        sum += luminance[x++];
      }
      sums[column] += sum;
    }
    if (++rows == side) {
      for (int column = 0; column < columns; column++) {
        histogram.add(sums[column] / (side * side), 1);
        sums[column] = 0;
      }
      rows = 0;
    }
  }

  LogHistogram histogram() {
    return histogram.build();
  }
}
