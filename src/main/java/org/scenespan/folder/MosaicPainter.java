package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.util.HashMap;
import java.util.Map;
import org.scenespan.frame.BlockGrid;
import org.scenespan.frame.Luminance;
import org.scenespan.frame.Mosaic;
import org.scenespan.frame.PixelFlags;
import org.scenespan.frame.ToneResponse;

/**
 * Draws a small picture and a mask of a mosaic, as {@link PreviewPainter} does of a picture: light
 * is averaged, marks are not. No white balance: it shows where light is, not how it looks.
 */
final class MosaicPainter {
  private final int columns;
  private final int rows;
  private final int cell;
  private final int width;
  private final int height;
  private final Mosaic mosaic;
  private final float[] light;
  private final int[] picture;
  private final int[] mask;
  private final Map<Integer, Line> unfinished = new HashMap<>();

  /** Sums of red, both greens and blue of each cell of a line, and its marks. */
  private record Line(int[] sums, byte[] marks, int[] blockRows) {}

  /**
   * @param columns blocks of four sites
   * @param rows blocks
   */
  MosaicPainter(int columns, int rows, Mosaic mosaic) {
    this.columns = columns;
    this.rows = rows;
    this.mosaic = mosaic;
    this.cell =
        Math.max(
            1, (Math.max(columns, rows) + PreviewPainter.LONGEST - 1) / PreviewPainter.LONGEST);
    this.width = (columns + cell - 1) / cell;
    this.height = (rows + cell - 1) / cell;
    this.light = new float[width * height];
    this.picture = new int[width * height];
    this.mask = new int[width * height];
  }

  /** A part of the frame from a row of blocks on, for one thread. */
  Part part(int firstRow) {
    return new Part(firstRow);
  }

  /** Takes rows of blocks one after the other. */
  final class Part {
    private int row;
    private Line line = new Line(new int[width * 3], new byte[width], new int[1]);

    private Part(int firstRow) {
      this.row = firstRow;
    }

    /**
     * @param flags of each block
     */
    void row(short[] upper, int upperAt, short[] lower, int lowerAt, byte[] flags) {
      String colours = mosaic.colours();
      add(upper, upperAt, colours.charAt(0));
      add(upper, upperAt + 1, colours.charAt(1));
      add(lower, lowerAt, colours.charAt(2));
      add(lower, lowerAt + 1, colours.charAt(3));
      for (int x = 0, column = 0; x < columns; column++) {
        int end = Math.min(columns, x + cell);
        int mark = line.marks[column];
        for (; x < end; x++) {
          mark |= flags[x];
        }
        line.marks[column] = (byte) mark;
      }
      line.blockRows[0]++;
      row++;
      if (row % cell == 0 || row == rows) {
        end();
      }
    }

    private void add(short[] codes, int at, char colour) {
      int channel = colour == 'R' ? 0 : colour == 'G' ? 1 : 2;
      int[] sums = line.sums;
      for (int x = 0, i = channel; x < columns; i += 3) {
        int end = Math.min(columns, x + cell);
        int sum = 0;
        for (; x < end; x++) {
          sum += codes[at + 2 * x] & 0xffff;
        }
        sums[i] += sum;
      }
    }

    /** Ends the line of cells, which another part may have begun or may go on with. */
    void end() {
      if (line.blockRows[0] > 0) {
        finish((row - 1) / cell, line);
        line = new Line(new int[width * 3], new byte[width], new int[1]);
      }
    }
  }

  private void finish(int y, Line line) {
    int whole = Math.min(cell, rows - y * cell);
    Line all = line;
    if (line.blockRows[0] < whole) {
      synchronized (unfinished) {
        Line before = unfinished.remove(y);
        all = before == null ? line : merged(before, line);
        if (all.blockRows[0] < whole) {
          unfinished.put(y, all);
          return;
        }
      }
    }
    paint(y, all, whole);
  }

  private static Line merged(Line one, Line other) {
    for (int i = 0; i < one.sums.length; i++) {
      one.sums[i] += other.sums[i];
    }
    for (int i = 0; i < one.marks.length; i++) {
      one.marks[i] |= other.marks[i];
    }
    one.blockRows[0] += other.blockRows[0];
    return one;
  }

  private void paint(int y, Line line, int tall) {
    double redBlack = mosaic.black().get(mosaic.colours().indexOf('R'));
    double blueBlack = mosaic.black().get(mosaic.colours().indexOf('B'));
    double greenBlack = mosaic.black().get(mosaic.colours().indexOf('G'));
    for (int column = 0; column < width; column++) {
      int blocks = tall * Math.min(cell, columns - column * cell);
      double red = light((double) line.sums[column * 3] / blocks, redBlack);
      double green = light(line.sums[column * 3 + 1] / (2.0 * blocks), greenBlack);
      double blue = light((double) line.sums[column * 3 + 2] / blocks, blueBlack);
      int at = y * width + column;
      picture[at] = encoded(red) << 16 | encoded(green) << 8 | encoded(blue);
      mask[at] = PreviewPainter.colourOf(line.marks[column]);
      light[at] =
          (line.marks[column] & PixelFlags.CLIPPED) != 0
              ? Float.NaN
              : (float) Luminance.of(red, green, blue);
    }
  }

  private double light(double code, double black) {
    return (code - black) / (mosaic.white() - black);
  }

  private static int encoded(double light) {
    double bounded = Math.max(0, Math.min(1, light));
    return SRGB[(int) (bounded * (SRGB.length - 1) + 0.5)];
  }

  /** sRGB codes of light in steps that are finer than the darkest code. */
  private static final int[] SRGB = new int[1 << 14];

  static {
    for (int i = 0; i < SRGB.length; i++) {
      SRGB[i] = (int) Math.round(255 * ToneResponse.linearToSrgb((double) i / (SRGB.length - 1)));
    }
  }

  /**
   * @param orientation Exif's 1 to 8
   */
  Preview preview(int orientation) {
    return new Preview(
        Preview.upright(picture, width, height, BufferedImage.TYPE_INT_RGB, orientation),
        Preview.upright(mask, width, height, BufferedImage.TYPE_INT_ARGB, orientation),
        BlockGrid.of(light, width, height, cell * cell));
  }
}
