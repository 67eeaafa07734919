package org.scenespan.frame;

import java.util.Arrays;
import java.util.Optional;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

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

  int columns() {
    return columns;
  }

  int lines() {
    return lines;
  }

  /** The natural logarithm of a block's light; NaN where it is clipped or black. */
  double log(int column, int line) {
    float value = light[line * columns + column];
    return value > 0 ? Math.log(value) : Double.NaN;
  }

  /** Pixels of the frame in a block. */
  int pixels() {
    return pixels;
  }

  /** The mean luminance of a block relative to saturation; NaN where it is clipped. */
  float light(int block) {
    return light[block];
  }

  /**
   * How bright a part of the frame is: the mean of its blocks without the darkest and the brightest
   * of them, so that neither a black ridge nor the sun's disc pulls it. A clipped block counts as
   * saturated.
   *
   * @param part as the file has the picture, not upright
   * @param trim of the blocks at either end, below a half
   * @return relative to saturation; nothing where the part is black, or the picture too small
   */
  public Optional<Stops> trimmedMean(Patch part, Share trim) {
    if (light.length == 0) {
      return Optional.empty();
    }
    int left = from(part.left(), columns);
    int right = Math.max(left + 1, until(part.left() + part.width(), columns));
    int top = from(part.top(), lines);
    int lower = Math.max(top + 1, until(part.top() + part.height(), lines));
    double[] blocks = new double[(right - left) * (lower - top)];
    int count = 0;
    for (int line = top; line < lower; line++) {
      for (int column = left; column < right; column++) {
        float value = light[line * columns + column];
        blocks[count++] = Float.isNaN(value) ? 1 : value;
      }
    }
    Arrays.sort(blocks);
    int cut = (int) (trim.value() * count);
    double sum = 0;
    for (int i = cut; i < count - cut; i++) {
      sum += blocks[i];
    }
    double mean = sum / (count - 2 * cut);
    return mean > 0 ? Optional.of(Stops.ofRatio(mean)) : Optional.empty();
  }

  private static int from(double part, int count) {
    return Math.min(count - 1, (int) Math.round(part * count));
  }

  private static int until(double part, int count) {
    return Math.min(count, (int) Math.round(part * count));
  }

  boolean isLike(BlockGrid other) {
    return columns == other.columns && lines == other.lines && pixels == other.pixels;
  }
}
