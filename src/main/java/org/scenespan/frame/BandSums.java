package org.scenespan.frame;

import java.util.Arrays;

/**
 * Sums over a band of rows, column by column, and at its end over the parts of a {@link
 * RegionSums}: in an order that depends on the picture's size alone. A band is eight rows from a
 * multiple of eight on, cut where the regions are.
 */
final class BandSums {
  private static final int GROUP = RowOrder.GROUP;

  private final int height;
  private final RowOrder order;
  private final RegionSums regions;
  private final double[][] squares;
  private final double[][] lights;
  private final double[] groupSums;

  BandSums(int width, int height) {
    this.height = height;
    this.order = new RowOrder(width);
    this.regions = new RegionSums(width, height);
    this.squares = new double[GROUP][order.groups()];
    this.lights = new double[GROUP][order.groups()];
    this.groupSums = new double[order.groups()];
  }

  /** Bands of a picture. */
  static int bandsOf(int height) {
    return (height - 1) / PixelTally.BAND + Math.min(SharpnessGrid.MOST, height);
  }

  /** The band that a row lies in; some numbers may belong to none. */
  int bandOf(int row) {
    return row / PixelTally.BAND + regions.lineOf(row);
  }

  boolean endsWith(int row) {
    return row + 1 == height || bandOf(row + 1) != bandOf(row);
  }

  /**
   * Adds a row's luminances of one column of every group.
   *
   * @param left those of the columns on their left
   * @param up those of the row above
   */
  void add(int column, double[] here, double[] left, double[] up) {
    add(here, left, up, squares[column], lights[column]);
  }

  private static void add(
      double[] here, double[] left, double[] up, double[] squares, double[] lights) {
    for (int i = 0; i < squares.length; i++) {
      double across = here[i] - left[i];
      double down = here[i] - up[i];
      squares[i] += across * across + down * down;
      lights[i] += here[i];
    }
  }

  /**
   * @param squaresOf takes, for each part from the left, the sum of the squared differences of
   *     luminances to those of their neighbours on the left and above, from an index on
   * @param lightsOf likewise the sum of luminances
   */
  void sum(double[] squaresOf, double[] lightsOf, int at) {
    parts(squares, squaresOf, at);
    parts(lights, lightsOf, at);
  }

  private void parts(double[][] columns, double[] into, int at) {
    Arrays.fill(groupSums, 0);
    for (double[] column : columns) {
      addUp(column, groupSums);
    }
    for (int part = 0; part < regions.columns(); part++) {
      into[at + part] = part(columns, regions.firstColumn(part), regions.firstColumn(part + 1));
    }
  }

  private static void addUp(double[] column, double[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] += column[i];
    }
  }

  private double part(double[][] columns, int from, int end) {
    double sum = 0;
    int x = from;
    for (; x < end && x % GROUP != 0; x++) {
      sum += columns[x % GROUP][x / GROUP];
    }
    for (; x + GROUP <= end; x += GROUP) {
      sum += groupSums[x / GROUP];
    }
    for (; x < end; x++) {
      sum += columns[x % GROUP][x / GROUP];
    }
    return sum;
  }

  void clear() {
    for (int column = 0; column < GROUP; column++) {
      Arrays.fill(squares[column], 0);
      Arrays.fill(lights[column], 0);
    }
  }
}
