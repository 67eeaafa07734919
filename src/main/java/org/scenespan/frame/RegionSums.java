package org.scenespan.frame;

/**
 * Sums for a {@link SharpnessGrid}. Parts are cut at even columns: a picture keeps the parts that
 * it has always had.
 */
final class RegionSums {
  private final int width;
  private final int height;
  private final int columns;
  private final int lines;
  private final double[] squares;
  private final double[] light;

  RegionSums(int width, int height) {
    this.width = width;
    this.height = height;
    this.columns = columnsOf(width);
    this.lines = Math.min(SharpnessGrid.MOST, height);
    this.squares = new double[columns * lines];
    this.light = new double[columns * lines];
  }

  /** Parts from left to right of a picture of a width. */
  static int columnsOf(int width) {
    return Math.min(SharpnessGrid.MOST, (width + 1) / 2);
  }

  /** The first pair of columns of a part; that of the part behind the last is all pairs. */
  static int firstPair(int column, int width) {
    return (int) ((long) column * ((width + 1) / 2) / columnsOf(width));
  }

  int columns() {
    return columns;
  }

  /** The line of parts that a row of the picture lies in. */
  int lineOf(int row) {
    int line = (int) ((long) row * lines / height);
    return row >= firstRow(line + 1) ? line + 1 : line;
  }

  /** The first row of a line of parts; that of the line behind the last is the height. */
  int firstRow(int line) {
    return (int) ((long) line * height / lines);
  }

  /** The first column of a part; that of the part behind the last is the width. */
  int firstColumn(int column) {
    return Math.min(width, 2 * firstPair(column, width));
  }

  /**
   * @param squares of the differences of luminances to those on the left and above
   * @param light sum of luminances
   */
  void add(int column, int line, double squares, double light) {
    int at = line * columns + column;
    this.squares[at] += squares;
    this.light[at] += light;
  }

  void add(RegionSums other) {
    for (int i = 0; i < squares.length; i++) {
      squares[i] += other.squares[i];
      light[i] += other.light[i];
    }
  }

  SharpnessGrid grid() {
    float[] means = new float[squares.length];
    float[] lights = new float[squares.length];
    for (int line = 0; line < lines; line++) {
      double tall = firstRow(line + 1) - firstRow(line);
      for (int column = 0; column < columns; column++) {
        double wide = firstColumn(column + 1) - firstColumn(column);
        double pairs = 2 * wide * tall - (column == 0 ? tall : 0) - (line == 0 ? wide : 0);
        int at = line * columns + column;
        means[at] = pairs > 0 ? (float) (squares[at] / pairs) : 0;
        lights[at] = (float) (light[at] / (wide * tall));
      }
    }
    return new SharpnessGrid(columns, lines, means, lights);
  }

  /** Mean squared difference over the squared mean; 0 for a black picture or a single pixel. */
  double sharpness() {
    double sum = 0;
    double all = 0;
    for (int i = 0; i < squares.length; i++) {
      all += squares[i];
      sum += light[i];
    }
    double pairs = (double) (width - 1) * height + (double) width * (height - 1);
    if (!(pairs > 0 && sum > 0)) {
      return 0;
    }
    double mean = sum / ((double) width * height);
    return all / pairs / (mean * mean);
  }
}
