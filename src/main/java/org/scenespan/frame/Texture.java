package org.scenespan.frame;

import java.util.Arrays;

/**
 * Gathers how much neighbouring luminances differ, row by row: the sharpness of a {@link
 * FrameMeasure}. Neighbours are side by side or one above the other.
 *
 * <p>Sums are kept column by column: such a loop has no number that waits for the one before it.
 */
final class Texture {
  private final int width;
  private double[] row;
  private double[] above;
  private final double[] left;
  private final double[] top;
  private final double[] sums;
  private final double[] squares;
  private boolean first = true;
  private long rows;

  Texture(int width) {
    this.width = width;
    this.row = new double[width];
    this.above = new double[width];
    this.left = new double[width];
    this.top = new double[width];
    this.sums = new double[width];
    this.squares = new double[width];
  }

  /** The row to fill with luminances before {@link #endRow()}. */
  double[] row() {
    return row;
  }

  void endRow() {
    // Copied beside: the compiler makes no vector instructions of a loop that reads an array at two
    // places.
    left[0] = row[0];
    System.arraycopy(row, 0, left, 1, width - 1);
    if (first) {
      addDifferences(row, left, row, squares);
      System.arraycopy(row, 0, top, 0, width);
    } else {
      addDifferences(row, left, above, squares);
    }
    add(row, sums);
    double[] free = above;
    above = row;
    row = free;
    first = false;
    rows++;
  }

  private static void addDifferences(
      double[] here, double[] left, double[] above, double[] squares) {
    for (int x = 0; x < squares.length; x++) {
      double across = here[x] - left[x];
      double down = here[x] - above[x];
      squares[x] += across * across + down * down;
    }
  }

  private static void add(double[] values, double[] sums) {
    for (int x = 0; x < sums.length; x++) {
      sums[x] += values[x];
    }
  }

  /** Puts the rows of another part under these. */
  void append(Texture below) {
    if (below.rows == 0) {
      return;
    }
    if (!first) {
      addDifferences(below.top, below.top, above, squares);
    } else {
      System.arraycopy(below.top, 0, top, 0, width);
    }
    System.arraycopy(below.above, 0, above, 0, width);
    first = false;
    add(below.sums, sums);
    add(below.squares, squares);
    rows += below.rows;
  }

  /** Mean squared difference over the squared mean; 0 for a black picture or a single pixel. */
  double sharpness() {
    double pairs = (double) (width - 1) * rows + (double) width * Math.max(0, rows - 1);
    double sum = Arrays.stream(sums).sum();
    if (!(pairs > 0 && sum > 0)) {
      return 0;
    }
    double mean = sum / ((double) width * rows);
    return Arrays.stream(squares).sum() / pairs / (mean * mean);
  }
}
