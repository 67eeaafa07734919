package org.scenespan.frame;

import java.util.Arrays;

/**
 * Gathers how much neighbouring luminances differ, row by row: the sharpness of a {@link
 * FrameMeasure} and of its parts. Neighbours are side by side or one above the other.
 *
 * <p>Sums are kept column by column until a line of parts ends: such a loop has no number that
 * waits for the one before it.
 */
final class Texture {
  private final int width;
  private double[] row;
  private double[] above;
  private final double[] left;
  private final double[] top;
  private final double[] sums;
  private final double[] squares;
  private final int firstRow;
  private final RegionSums regions;
  private boolean first = true;
  private int rows;
  private int line;

  /** For all rows of a picture. */
  Texture(int width, int height) {
    this(width, height, 0);
  }

  /**
   * @param height rows of the whole picture
   * @param firstRow where in the picture the rows begin
   */
  Texture(int width, int height, int firstRow) {
    this.width = width;
    this.firstRow = firstRow;
    this.regions = new RegionSums(width, height);
    this.line = regions.lineOf(firstRow);
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
    if (firstRow + rows == regions.firstRow(line + 1)) {
      endLine();
      line++;
    }
  }

  /** Puts the sums of columns into those of the parts. */
  private void endLine() {
    for (int column = 0; column < regions.columns(); column++) {
      double square = 0;
      double light = 0;
      int end = regions.firstColumn(column + 1);
      for (int x = regions.firstColumn(column); x < end; x++) {
        square += squares[x];
        light += sums[x];
      }
      regions.add(column, line, square, light);
    }
    Arrays.fill(squares, 0);
    Arrays.fill(sums, 0);
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

  /** Puts the rows of another part, all of which are in, under these. */
  void append(Texture below) {
    if (below.rows == 0) {
      return;
    }
    below.endPart();
    if (!first) {
      endPart();
      line = regions.lineOf(below.firstRow);
      addDifferences(below.top, below.top, above, squares);
      endLine();
    } else {
      System.arraycopy(below.top, 0, top, 0, width);
    }
    System.arraycopy(below.above, 0, above, 0, width);
    first = false;
    rows += below.rows;
    line = below.line;
    regions.add(below.regions);
  }

  /** Puts what a last line of parts has so far into it. */
  private void endPart() {
    if (firstRow + rows > regions.firstRow(line)) {
      endLine();
    }
  }

  /** To be asked when all rows are in. */
  SharpnessGrid regions() {
    return regions.grid();
  }

  /** Mean squared difference over the squared mean; 0 for a black picture or a single pixel. */
  double sharpness() {
    return regions.sharpness();
  }
}
