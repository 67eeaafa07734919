package org.scenespan.frame;

/**
 * A frame's linear light averaged over square blocks, red, green and blue apart, upright; small
 * enough to be kept beside those of other frames. Immutable.
 */
public final class ColourGrid {
  /** The most blocks on the longer side: about 20 000 in all, 250 KB. */
  public static final int LONGEST = 160;

  private final int columns;
  private final int lines;
  private final float[] red;
  private final float[] green;
  private final float[] blue;

  private ColourGrid(int columns, int lines) {
    this.columns = columns;
    this.lines = lines;
    this.red = new float[columns * lines];
    this.green = new float[columns * lines];
    this.blue = new float[columns * lines];
  }

  /**
   * Averages a small picture in linear light.
   *
   * @param rgb sRGB codes of each pixel, red in the bits from 16, line by line
   * @param width pixels
   * @param height pixels
   */
  public static ColourGrid of(int[] rgb, int width, int height) {
    if (!(width > 0 && height > 0 && rgb.length == width * height)) {
      throw new IllegalArgumentException(rgb.length + " pixels are not " + width + " x " + height);
    }
    int side = Math.max(1, (Math.max(width, height) + LONGEST - 1) / LONGEST);
    ColourGrid grid = new ColourGrid((width + side - 1) / side, (height + side - 1) / side);
    for (int line = 0; line < grid.lines; line++) {
      for (int column = 0; column < grid.columns; column++) {
        grid.average(rgb, width, height, side, column, line);
      }
    }
    return grid;
  }

  private void average(int[] rgb, int width, int height, int side, int column, int line) {
    int right = Math.min(width, (column + 1) * side);
    int lower = Math.min(height, (line + 1) * side);
    double r = 0;
    double g = 0;
    double b = 0;
    for (int y = line * side; y < lower; y++) {
      for (int x = column * side; x < right; x++) {
        int pixel = rgb[y * width + x];
        r += LINEAR[pixel >> 16 & 0xff];
        g += LINEAR[pixel >> 8 & 0xff];
        b += LINEAR[pixel & 0xff];
      }
    }
    double count = (double) (right - column * side) * (lower - line * side);
    int at = line * columns + column;
    red[at] = (float) (r / count);
    green[at] = (float) (g / count);
    blue[at] = (float) (b / count);
  }

  private static final double[] LINEAR = new double[256];

  static {
    for (int code = 0; code < LINEAR.length; code++) {
      LINEAR[code] = ToneResponse.srgbToLinear(code / 255.0);
    }
  }

  public int columns() {
    return columns;
  }

  public int lines() {
    return lines;
  }

  double red(int column, int line) {
    return red[line * columns + column];
  }

  double green(int column, int line) {
    return green[line * columns + column];
  }

  double blue(int column, int line) {
    return blue[line * columns + column];
  }

  /** BT.709 luminance of a block relative to saturation. */
  double luminance(int column, int line) {
    int at = line * columns + column;
    return 0.2126 * red[at] + 0.7152 * green[at] + 0.0722 * blue[at];
  }

  boolean isLike(ColourGrid other) {
    return columns == other.columns && lines == other.lines;
  }
}
