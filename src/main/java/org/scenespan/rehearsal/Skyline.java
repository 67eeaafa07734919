package org.scenespan.rehearsal;

/** Crests one before the other, so that what a nearer one hides need not be drawn. */
final class Skyline {
  private final double[][] tops;

  /**
   * @param layers how many, the farthest first
   * @param width in columns
   */
  Skyline(int layers, int width) {
    tops = new double[layers][width];
  }

  /** Sets where a layer begins in a column: a row, with its part. */
  void set(int layer, int column, double top) {
    tops[layer][column] = top;
  }

  /** The first row that a layer touches, from the picture's upper edge on. */
  int from(int layer, int column) {
    return Math.max(0, (int) tops[layer][column] - 1);
  }

  /** How much of a pixel a layer covers, 0 to 1. */
  double share(int layer, int column, int row) {
    return Math.min(1, Math.max(0, row - tops[layer][column] + 0.5));
  }

  /**
   * The first row that is wholly covered by layers nearer than this one.
   *
   * @param layer −1 is what is behind all
   * @param bottom what comes where there are none: the row after the last
   */
  int hiddenFrom(int layer, int column, int bottom) {
    int row = bottom;
    for (int nearer = layer + 1; nearer < tops.length; nearer++) {
      row = Math.min(row, Math.max(0, (int) Math.ceil(tops[nearer][column] + 0.5)));
    }
    return row;
  }
}
