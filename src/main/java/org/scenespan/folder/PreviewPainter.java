package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.util.Arrays;
import org.scenespan.frame.PixelFlags;

/**
 * Draws a small picture and a mask of the clipped and crushed pixels while rows pass by. The
 * picture is averaged, the mask is not: a single marked pixel marks the cell that it falls into.
 */
final class PreviewPainter {
  /** The most pixels of the preview's longer side. */
  static final int LONGEST = 1024;

  /** Opaque red where a channel is clipped. */
  static final int CLIPPED_COLOUR = 0xffff0000;

  /** Opaque blue where every channel is crushed; with both in one cell, red and blue. */
  static final int CRUSHED_COLOUR = 0xff0000ff;

  private final int width;
  private final int height;
  private final int cell;
  private final int columns;
  private final int lines;
  private final int[] picture;
  private final int[] mask;
  private final int[] sums;
  private final byte[] marks;
  private int rows;

  PreviewPainter(int width, int height) {
    this.width = width;
    this.height = height;
    this.cell = Math.max(1, (Math.max(width, height) + LONGEST - 1) / LONGEST);
    this.columns = (width + cell - 1) / cell;
    this.lines = (height + cell - 1) / cell;
    this.picture = new int[columns * lines];
    this.mask = new int[columns * lines];
    this.sums = new int[columns * 3];
    this.marks = new byte[columns];
  }

  /**
   * @param samples sRGB codes of the next row
   * @param step samples to a pixel: 1 for grey, 3 for red, green and blue
   * @param flags {@link PixelFlags} of the row
   */
  void row(byte[] samples, int step, byte[] flags) {
    int green = step == 3 ? 1 : 0;
    int blue = step == 3 ? 2 : 0;
    for (int column = 0, x = 0; column < columns; column++) {
      int end = Math.min(width, x + cell);
      int r = 0;
      int g = 0;
      int b = 0;
      int mark = 0;
      for (; x < end; x++) {
        int i = x * step;
        r += samples[i] & 0xff;
        g += samples[i + green] & 0xff;
        b += samples[i + blue] & 0xff;
        mark |= flags[x];
      }
      sums[column * 3] += r;
      sums[column * 3 + 1] += g;
      sums[column * 3 + 2] += b;
      marks[column] |= (byte) mark;
    }
    rows++;
    if (rows % cell == 0 || rows == height) {
      endLine((rows - 1) / cell);
    }
  }

  private void endLine(int line) {
    int tall = rows - line * cell;
    for (int column = 0; column < columns; column++) {
      int count = tall * Math.min(cell, width - column * cell);
      int at = line * columns + column;
      picture[at] =
          sums[column * 3] / count << 16
              | sums[column * 3 + 1] / count << 8
              | sums[column * 3 + 2] / count;
      mask[at] = colourOf(marks[column]);
    }
    Arrays.fill(sums, 0);
    Arrays.fill(marks, (byte) 0);
  }

  static int colourOf(byte marks) {
    int colour = 0;
    if ((marks & PixelFlags.CLIPPED) != 0) {
      colour |= CLIPPED_COLOUR;
    }
    if ((marks & PixelFlags.CRUSHED) != 0) {
      colour |= CRUSHED_COLOUR;
    }
    return colour;
  }

  /**
   * @param orientation Exif's 1 to 8
   */
  Preview preview(int orientation) {
    return new Preview(
        Preview.upright(picture, columns, lines, BufferedImage.TYPE_INT_RGB, orientation),
        Preview.upright(mask, columns, lines, BufferedImage.TYPE_INT_ARGB, orientation));
  }
}
