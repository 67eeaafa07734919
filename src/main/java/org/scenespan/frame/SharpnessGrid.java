package org.scenespan.frame;

import java.util.Arrays;

/**
 * How sharp each part of a frame is, on a grid of about equal parts: focus that has gone from the
 * subject to what is behind it leaves the whole as sharp as before. Immutable.
 */
public final class SharpnessGrid {
  /** The most parts either way; a picture of fewer pairs of columns, or rows, has fewer. */
  public static final int MOST = 16;

  /** Of a frame whose parts are not known. */
  public static final SharpnessGrid NONE = new SharpnessGrid(0, 0, new float[0], new float[0]);

  private final int columns;
  private final int lines;
  private final float[] squares;
  private final float[] light;

  /**
   * @param squares mean squared difference of neighbouring luminances of each part, line by line
   * @param light mean luminance of each part relative to saturation
   */
  SharpnessGrid(int columns, int lines, float[] squares, float[] light) {
    this.columns = columns;
    this.lines = lines;
    this.squares = squares;
    this.light = light;
  }

  public int columns() {
    return columns;
  }

  public int lines() {
    return lines;
  }

  public boolean isNone() {
    return columns == 0;
  }

  /**
   * The mean squared difference of neighbouring luminances in a part over its mean luminance
   * squared, as that of the whole in {@link FrameMeasure}; 0 where it is black.
   */
  public double sharpness(int column, int line) {
    int at = line * columns + column;
    return over(squares[at], light[at]);
  }

  private static double over(double squares, double light) {
    return light > 0 ? squares / (light * light) : 0;
  }

  /** Sharpness within a patch, parts that it only touches by as much as it covers of them. */
  public double within(Patch patch) {
    double sumOfSquares = 0;
    double sumOfLight = 0;
    double sum = 0;
    for (int line = 0; line < lines; line++) {
      double down = covered(patch.top(), patch.height(), line, lines);
      for (int column = 0; down > 0 && column < columns; column++) {
        double part = down * covered(patch.left(), patch.width(), column, columns);
        int at = line * columns + column;
        sumOfSquares += part * squares[at];
        sumOfLight += part * light[at];
        sum += part;
      }
    }
    return sum > 0 ? over(sumOfSquares / sum, sumOfLight / sum) : 0;
  }

  /** What a stretch covers of one of many equal parts, 0 to 1. */
  private static double covered(double from, double length, int index, int of) {
    double first = Math.max(from * of, index);
    double end = Math.min((from + length) * of, index + 1);
    return Math.max(0, end - first);
  }

  /**
   * Turned and mirrored so that what was up is up (CIPA DC-008, Orientation).
   *
   * @param orientation 1 to 8; anything else is taken as 1
   */
  public SharpnessGrid upright(int orientation) {
    if (!(orientation >= 2 && orientation <= 8)) {
      return this;
    }
    boolean turned = orientation >= 5;
    int across = turned ? lines : columns;
    int down = turned ? columns : lines;
    SharpnessGrid upright =
        new SharpnessGrid(across, down, new float[squares.length], new float[squares.length]);
    for (int y = 0; y < lines; y++) {
      for (int x = 0; x < columns; x++) {
        boolean right = orientation == 2 || orientation == 3;
        boolean bottom = orientation == 3 || orientation == 4;
        int column = turned ? y : right ? columns - 1 - x : x;
        int line = turned ? x : bottom ? lines - 1 - y : y;
        if (orientation == 6 || orientation == 7) {
          column = lines - 1 - y;
        }
        if (orientation == 7 || orientation == 8) {
          line = columns - 1 - x;
        }
        upright.squares[line * across + column] = squares[y * columns + x];
        upright.light[line * across + column] = light[y * columns + x];
      }
    }
    return upright;
  }

  boolean isLike(SharpnessGrid other) {
    return columns == other.columns && lines == other.lines;
  }

  @Override
  public boolean equals(Object object) {
    return object instanceof SharpnessGrid other
        && isLike(other)
        && Arrays.equals(squares, other.squares)
        && Arrays.equals(light, other.light);
  }

  @Override
  public int hashCode() {
    return 31 * Arrays.hashCode(squares) + Arrays.hashCode(light);
  }

  @Override
  public String toString() {
    return "sharpness of " + columns + " x " + lines + " parts";
  }
}
