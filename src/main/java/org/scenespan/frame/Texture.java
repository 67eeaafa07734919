package org.scenespan.frame;

/**
 * Gathers how much neighbouring luminances differ, row by row: the sharpness of a {@link
 * FrameMeasure}. Neighbours are side by side or one above the other.
 */
final class Texture {
  private final int width;
  private final double[] row;
  private final double[] above;
  private boolean first = true;
  private double sum;
  private double squares;
  private long rows;

  Texture(int width) {
    this.width = width;
    this.row = new double[width];
    this.above = new double[width];
  }

  /** The row to fill with luminances before {@link #endRow()}. */
  double[] row() {
    return row;
  }

  void endRow() {
    double rowSum = row[0];
    double across = 0;
    for (int x = 1; x < width; x++) {
      double difference = row[x] - row[x - 1];
      across += difference * difference;
      rowSum += row[x];
    }
    double down = 0;
    if (!first) {
      for (int x = 0; x < width; x++) {
        double difference = row[x] - above[x];
        down += difference * difference;
      }
    }
    System.arraycopy(row, 0, above, 0, width);
    first = false;
    sum += rowSum;
    squares += across + down;
    rows++;
  }

  /** Mean squared difference over the squared mean; 0 for a black picture or a single pixel. */
  double sharpness() {
    double pairs = (double) (width - 1) * rows + (double) width * Math.max(0, rows - 1);
    if (!(pairs > 0 && sum > 0)) {
      return 0;
    }
    double mean = sum / ((double) width * rows);
    return squares / pairs / (mean * mean);
  }
}
