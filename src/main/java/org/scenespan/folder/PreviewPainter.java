package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import org.scenespan.frame.BlockGrid;
import org.scenespan.frame.CodeTone;
import org.scenespan.frame.PixelFlags;

/**
 * Draws a small picture and a mask of the clipped and crushed pixels while rows pass by. The
 * picture is averaged, the mask is not: a single marked pixel marks the cell that it falls into.
 */
final class PreviewPainter {
  /** The most pixels of the preview's longer side. */
  static final int LONGEST = 1600;

  /** Opaque red where a channel is clipped. */
  static final int CLIPPED_COLOUR = 0xffff0000;

  /** Opaque blue where every channel is crushed; with both in one cell, red and blue. */
  static final int CRUSHED_COLOUR = 0xff0000ff;

  private final int width;
  private final int height;
  private final int cell;
  private final int columns;
  private final int lines;
  private final CodeTone tone;
  private final float[] light;
  private final int[] picture;
  private final int[] mask;
  private final int[] sums;
  private final byte[] marks;
  private int rows;

  /** For codes of sRGB. */
  PreviewPainter(int width, int height) {
    this(width, height, CodeTone.SRGB);
  }

  /**
   * @param tone what the samples stand for
   */
  PreviewPainter(int width, int height, CodeTone tone) {
    this.tone = tone;
    this.width = width;
    this.height = height;
    this.cell = Math.max(1, (Math.max(width, height) + LONGEST - 1) / LONGEST);
    this.columns = (width + cell - 1) / cell;
    this.lines = (height + cell - 1) / cell;
    this.light = new float[columns * lines];
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
      paint(at, count, sums[column * 3], sums[column * 3 + 1], sums[column * 3 + 2], marks[column]);
    }
    Arrays.fill(sums, 0);
    Arrays.fill(marks, (byte) 0);
  }

  /** One cell: the mean of its codes, its marks, and its light. */
  private void paint(int at, int count, int red, int green, int blue, byte marked) {
    picture[at] = red / count << 16 | green / count << 8 | blue / count;
    mask[at] = colourOf(marked);
    light[at] =
        (marked & PixelFlags.CLIPPED) != 0
            ? Float.NaN
            : (float)
                tone.luminance((double) red / count, (double) green / count, (double) blue / count);
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

  /** A part of the drawing for one thread. */
  Part part() {
    return new Part();
  }

  /**
   * Takes rows of one thread, in any order, as {@link org.scenespan.folder.jpeg.RowSink.Part#row}
   * has them: added up downward first, because that is a loop without a branch, and across only
   * once a line.
   */
  final class Part {
    private final int half = (width + 1) / 2;
    private int[][] sums = new int[4][2 * half];
    private int line = -1;
    private int taken;

    /**
     * @param marks {@link PixelFlags} of the row
     */
    void row(int y, int[] red, int[] green, int[] blue, int[] marks) {
      if (y / cell != line) {
        end();
        line = y / cell;
      }
      add(red, sums[0]);
      add(green, sums[1]);
      add(blue, sums[2]);
      join(marks, sums[3]);
      taken++;
      if (taken == cell) {
        end();
      }
    }

    private static void add(int[] row, int[] into) {
      for (int i = 0; i < into.length; i++) {
        into[i] += row[i];
      }
    }

    private static void join(int[] row, int[] into) {
      for (int i = 0; i < into.length; i++) {
        into[i] |= row[i];
      }
    }

    /** Ends the line of cells, which another part may have begun or may go on with. */
    void end() {
      if (taken == 0) {
        return;
      }
      int[][] cells = new int[4][columns];
      for (int kind = 0; kind < 4; kind++) {
        for (int odd = 0; odd < 2; odd++) {
          if (kind < 3) {
            addCells(sums[kind], odd, cells[kind]);
          } else {
            joinCells(sums[kind], odd, cells[kind]);
          }
        }
        Arrays.fill(sums[kind], 0);
      }
      gather(line, taken, cells);
      taken = 0;
    }

    private void addCells(int[] values, int odd, int[] into) {
      int i = odd * half;
      for (int column = 0; column < into.length; column++) {
        int last = odd * half + (Math.min(width, (column + 1) * cell) + 1 - odd) / 2;
        int sum = 0;
        for (; i < last; i++) {
          sum += values[i];
        }
        into[column] += sum;
      }
    }

    private void joinCells(int[] values, int odd, int[] into) {
      int i = odd * half;
      for (int column = 0; column < into.length; column++) {
        int last = odd * half + (Math.min(width, (column + 1) * cell) + 1 - odd) / 2;
        int joined = 0;
        for (; i < last; i++) {
          joined |= values[i];
        }
        into[column] |= joined;
      }
    }
  }

  /** Lines of cells of which some rows are still to come. */
  private final Map<Integer, Unfinished> unfinished = new HashMap<>();

  private record Unfinished(int tall, int[][] cells) {}

  private void gather(int line, int tall, int[][] cells) {
    int whole = Math.min(cell, height - line * cell);
    int all = tall;
    if (tall < whole) {
      synchronized (unfinished) {
        Unfinished before = unfinished.remove(line);
        if (before != null) {
          all += before.tall;
          for (int column = 0; column < columns; column++) {
            cells[0][column] += before.cells[0][column];
            cells[1][column] += before.cells[1][column];
            cells[2][column] += before.cells[2][column];
            cells[3][column] |= before.cells[3][column];
          }
        }
        if (all < whole) {
          unfinished.put(line, new Unfinished(all, cells));
          return;
        }
      }
    }
    for (int column = 0; column < columns; column++) {
      int count = whole * Math.min(cell, width - column * cell);
      int at = line * columns + column;
      paint(
          at, count, cells[0][column], cells[1][column], cells[2][column], (byte) cells[3][column]);
    }
  }

  /**
   * @param orientation Exif's 1 to 8
   */
  Preview preview(int orientation) {
    return new Preview(
        Preview.upright(picture, columns, lines, BufferedImage.TYPE_INT_RGB, orientation),
        Preview.upright(mask, columns, lines, BufferedImage.TYPE_INT_ARGB, orientation),
        BlockGrid.of(light, columns, lines, cell * cell));
  }
}
