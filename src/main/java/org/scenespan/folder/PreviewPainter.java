package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.function.IntPredicate;
import org.scenespan.frame.BlockGrid;
import org.scenespan.frame.CodeTone;
import org.scenespan.frame.PackedPixel;
import org.scenespan.frame.PixelFlags;
import org.scenespan.frame.RowOrder;

/**
 * Draws a small picture and a mask of the clipped and crushed pixels while rows pass by. The
 * picture is averaged, the mask is not: a single marked pixel marks the cell that it falls into.
 */
final class PreviewPainter {
  /** The most pixels of the preview's longer side. */
  static final int LONGEST = 1600;

  private static final int FINER_BITS = 4;

  private static final int FINE_CODES = (255 << FINER_BITS) + 1;

  /** Opaque red where a channel is clipped. */
  static final int CLIPPED_COLOUR = 0xffff0000;

  /** Opaque blue where every channel is crushed; with both in one cell, red and blue. */
  static final int CRUSHED_COLOUR = 0xff0000ff;

  private final int width;
  private final int height;
  private final int cell;
  private final int columns;
  private final int lines;
  private final float[] light;
  private final int[] picture;
  private final int[] mask;

  /** What sixteenths of codes of red, of green and of blue add to luminance. */
  private final float[] lightOf = new float[3 * FINE_CODES];

  /** For codes of sRGB. */
  PreviewPainter(int width, int height) {
    this(width, height, CodeTone.SRGB);
  }

  /**
   * @param tone what the samples stand for
   */
  PreviewPainter(int width, int height, CodeTone tone) {
    this.width = width;
    this.height = height;
    this.cell = Math.max(1, (Math.max(width, height) + LONGEST - 1) / LONGEST);
    this.columns = (width + cell - 1) / cell;
    this.lines = (height + cell - 1) / cell;
    for (int i = 0; i < FINE_CODES; i++) {
      double code = (double) i / (1 << FINER_BITS);
      lightOf[i] = (float) tone.luminance(code, 0, 0);
      lightOf[FINE_CODES + i] = (float) tone.luminance(0, code, 0);
      lightOf[2 * FINE_CODES + i] = (float) tone.luminance(0, 0, code);
    }
    this.light = new float[columns * lines];
    this.picture = new int[columns * lines];
    this.mask = new int[columns * lines];
  }

  /**
   * One cell: the mean of its codes, its marks, and its light. Means come in parts of 2^-40 of a
   * code.
   */
  private void paint(int at, long red, long green, long blue, byte marked) {
    picture[at] = (int) (red >>> 40) << 16 | (int) (green >>> 40) << 8 | (int) (blue >>> 40);
    mask[at] = colourOf(marked);
    light[at] =
        (marked & PixelFlags.CLIPPED) != 0
            ? Float.NaN
            : lightOf[(int) (red >>> 40 - FINER_BITS)]
                + lightOf[FINE_CODES + (int) (green >>> 40 - FINER_BITS)]
                + lightOf[2 * FINE_CODES + (int) (blue >>> 40 - FINER_BITS)];
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
    private final RowOrder order = new RowOrder(width);
    private final int groups = order.groups();

    /** Sums of green in the upper half and of blue in the lower one. */
    private final int[] greenBlue = new int[order.length()];

    private final int[] red = new int[order.length()];
    private byte[] marks = new byte[columns];
    private int line = -1;
    private int taken;

    /**
     * @param anyMarked whether the row has a clipped or crushed pixel
     * @param marked whether one may be in a group of columns
     */
    void row(int y, int[] pixels, boolean anyMarked, IntPredicate marked) {
      if (y / cell != line) {
        end();
        line = y / cell;
      }
      addGreenBlue(pixels, greenBlue);
      addRed(pixels, red);
      for (int group = 0; anyMarked && group < groups; group++) {
        if (marked.test(group)) {
          mark(pixels, group);
        }
      }
      taken++;
      if (taken == cell) {
        end();
      }
    }

    private static void addGreenBlue(int[] pixels, int[] into) {
      for (int i = 0; i < into.length; i++) {
        into[i] += pixels[i] & 0xff00ff;
      }
    }

    private static void addRed(int[] pixels, int[] into) {
      for (int i = 0; i < into.length; i++) {
        into[i] += pixels[i] >> 8 & 0xff;
      }
    }

    private void mark(int[] pixels, int group) {
      int x = group * RowOrder.GROUP;
      int end = Math.min(width, x + RowOrder.GROUP);
      for (int i = group; x < end; x++, i += groups) {
        marks[x / cell] |= PackedPixel.flags(pixels[i]);
      }
    }

    /** Ends the line of cells, which another part may have begun or may go on with. */
    void end() {
      if (taken == 0) {
        return;
      }
      int[] cells = new int[3 * columns];
      join(cells);
      Arrays.fill(greenBlue, 0);
      Arrays.fill(red, 0);
      gather(line, new Unfinished(taken, cells, marks));
      marks = new byte[columns];
      taken = 0;
    }

    private void join(int[] cells) {
      int done = 0;
      if (cell <= RowOrder.GROUP && RowOrder.GROUP % cell == 0) {
        joinGroups(cells);
        done = width / RowOrder.GROUP * (RowOrder.GROUP / cell);
      }
      int x = done * cell;
      for (int column = done; column < columns; column++) {
        for (int end = Math.min(width, x + cell); x < end; x++) {
          int i = order.placeOf(x);
          cells[3 * column] += red[i];
          cells[3 * column + 1] += greenBlue[i] >>> 16;
          cells[3 * column + 2] += greenBlue[i] & 0xffff;
        }
      }
    }

    /** Cells of which a whole group has several, none of them shared with another group. */
    private void joinGroups(int[] cells) {
      int each = RowOrder.GROUP / cell;
      for (int part = 0; part < each; part++) {
        int from = part * cell * groups;
        for (int group = 0; group < width / RowOrder.GROUP; group++) {
          int two = 0;
          int r = 0;
          for (int i = from + group; i < from + cell * groups; i += groups) {
            two += greenBlue[i];
            r += red[i];
          }
          int at = 3 * (group * each + part);
          cells[at] = r;
          cells[at + 1] = two >>> 16;
          cells[at + 2] = two & 0xffff;
        }
      }
    }
  }

  /** Lines of cells of which some rows are still to come. */
  private final Map<Integer, Unfinished> unfinished = new HashMap<>();

  /**
   * Some rows of a line of cells.
   *
   * @param cells sums of red, green and blue of each
   */
  private record Unfinished(int tall, int[] cells, byte[] marks) {
    Unfinished with(Unfinished other) {
      for (int i = 0; i < cells.length; i++) {
        cells[i] += other.cells[i];
      }
      for (int i = 0; i < marks.length; i++) {
        marks[i] |= other.marks[i];
      }
      return new Unfinished(tall + other.tall, cells, marks);
    }
  }

  private void gather(int line, Unfinished part) {
    int whole = Math.min(cell, height - line * cell);
    Unfinished all = part;
    if (part.tall < whole) {
      synchronized (unfinished) {
        Unfinished before = unfinished.remove(line);
        all = before == null ? part : before.with(part);
        if (all.tall < whole) {
          unfinished.put(line, all);
          return;
        }
      }
    }
    int[] cells = all.cells;
    int inner = whole * cell;
    // Exact for sums of up to 2^24 of cells of up to 2^8 columns: a division costs more.
    long part40 = (1L << 40) / inner + 1;
    int at = line * columns;
    for (int column = 0; column < columns; column++, at++) {
      int i = 3 * column;
      paint(at, cells[i] * part40, cells[i + 1] * part40, cells[i + 2] * part40, all.marks[column]);
    }
    int count = whole * (width - (columns - 1) * cell);
    long last40 = (1L << 40) / count + 1;
    int i = 3 * (columns - 1);
    paint(
        at - 1,
        cells[i] * last40,
        cells[i + 1] * last40,
        cells[i + 2] * last40,
        all.marks[columns - 1]);
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
