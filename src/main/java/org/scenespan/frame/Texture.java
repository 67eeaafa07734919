package org.scenespan.frame;

/**
 * Gathers how much neighbouring luminances differ, row by row: the sharpness of a {@link
 * FrameMeasure}. Neighbours are side by side or one above the other.
 */
final class Texture {
  private final int width;
  private final double[] row;
  private final double[] above;
  private final double[] top;
  private boolean first = true;
  private double sum;
  private double squares;
  private long rows;

  Texture(int width) {
    this.width = width;
    this.row = new double[width];
    this.above = new double[width];
    this.top = new double[width];
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
    if (first) {
      System.arraycopy(row, 0, top, 0, width);
    }
    System.arraycopy(row, 0, above, 0, width);
    first = false;
    sum += rowSum;
    squares += across + down;
    rows++;
  }

  /** Puts the rows of another part under these. */
  void append(Texture below) {
    if (!first && !below.first) {
      for (int x = 0; x < width; x++) {
        double difference = below.top[x] - above[x];
        squares += difference * difference;
      }
    }
    if (first) {
      System.arraycopy(below.top, 0, top, 0, width);
    }
    System.arraycopy(below.above, 0, above, 0, width);
    first = first && below.first;
    sum += below.sum;
    squares += below.squares;
    rows += below.rows;
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
