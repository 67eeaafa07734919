package org.scenespan.frame;

/**
 * A frame's linear light averaged over square blocks, small enough to be kept beside those of other
 * frames. Immutable.
 */
public final class BlockGrid {
  /** The most blocks on the longer side: about 40 000 in all, 170 KB. */
  static final int LONGEST = 256;

  /** With fewer cells on a side, a block's mean would be little better than a pixel. */
  private static final int LEAST_CELLS = 4;

  private final int columns;
  private final int lines;
  private final int pixels;
  private final float[] light;

  private BlockGrid(int columns, int lines, int pixels, float[] light) {
    this.columns = columns;
    this.lines = lines;
    this.pixels = pixels;
    this.light = light;
  }

  /**
   * Blocks of the cells of a small picture; cells at the right and lower edge that fill no block
   * are left out.
   *
   * @param cells luminance of each cell relative to saturation, line by line; NaN where any pixel
   *     in it is clipped
   * @param width cells
   * @param height cells
   * @param pixels of the frame in a cell
   */
  public static BlockGrid of(float[] cells, int width, int height, int pixels) {
    if (!(width > 0 && height > 0 && cells.length == width * height && pixels > 0)) {
      throw new IllegalArgumentException(
          cells.length + " cells of " + pixels + " pixels are not " + width + " x " + height);
    }
    int side = Math.max(LEAST_CELLS, (Math.max(width, height) + LONGEST - 1) / LONGEST);
    int columns = width / side;
    int lines = height / side;
    float[] light = new float[columns * lines];
    for (int line = 0; line < lines; line++) {
      for (int column = 0; column < columns; column++) {
        double sum = 0;
        for (int y = line * side; y < (line + 1) * side; y++) {
          for (int x = column * side; x < (column + 1) * side; x++) {
            sum += cells[y * width + x];
          }
        }
        light[line * columns + column] = (float) (sum / (side * side));
      }
    }
    return new BlockGrid(columns, lines, pixels * side * side, light);
  }

  int blocks() {
    return light.length;
  }

  /** Pixels of the frame in a block. */
  int pixels() {
    return pixels;
  }

  /** The mean luminance of a block relative to saturation; NaN where it is clipped. */
  float light(int block) {
    return light[block];
  }

  boolean isLike(BlockGrid other) {
    return columns == other.columns && lines == other.lines && pixels == other.pixels;
  }
}
