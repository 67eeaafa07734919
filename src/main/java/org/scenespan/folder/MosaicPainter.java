package org.scenespan.folder;

import java.awt.image.BufferedImage;
import java.util.Arrays;
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

  /**
   * Takes rows of blocks one after the other: added up downward first, because that is a loop
   * without a branch, and across only once a line.
   */
  final class Part {
    private int row;
    private final int[] upper = new int[columns];
    private final int[] lower = new int[columns];
    private final int[][] sums = new int[3][columns];
    private byte[] marks = new byte[width];
    private int blockRows;

    private Part(int firstRow) {
      this.row = firstRow;
    }

    /**
     * @param upperPairs two sites of the upper row to a number, the left one in the low 16 bits
     * @param lowerPairs likewise of the lower row
     * @param marked whether any block is flagged
     * @param flags of each block
     */
    void row(
        int[] upperPairs,
        int upperAt,
        int[] lowerPairs,
        int lowerAt,
        boolean marked,
        byte[] flags) {
      System.arraycopy(upperPairs, upperAt, upper, 0, columns);
      System.arraycopy(lowerPairs, lowerAt, lower, 0, columns);
      addLeft(upper, sumsOf(0));
      addRight(upper, sumsOf(1));
      addLeft(lower, sumsOf(2));
      addRight(lower, sumsOf(3));
      if (marked) {
        mark(flags);
      }
      blockRows++;
      row++;
      if (row % cell == 0 || row == rows) {
        end();
      }
    }

    private int[] sumsOf(int site) {
      return sums["RGB".indexOf(mosaic.colours().charAt(site))];
    }

    private static void addLeft(int[] pairs, int[] into) {
      for (int i = 0; i < into.length; i++) {
        into[i] += pairs[i] & 0xffff;
      }
    }

    private static void addRight(int[] pairs, int[] into) {
      for (int i = 0; i < into.length; i++) {
        into[i] += pairs[i] >>> 16;
      }
    }

    private void mark(byte[] flags) {
      for (int x = 0, column = 0; x < columns; column++) {
        int end = Math.min(columns, x + cell);
        int mark = marks[column];
        for (; x < end; x++) {
          mark |= flags[x];
        }
        marks[column] = (byte) mark;
      }
    }

    /** Ends the line of cells, which another part may have begun or may go on with. */
    void end() {
      if (blockRows == 0) {
        return;
      }
      int[] cells = new int[width * 3];
      for (int channel = 0; channel < 3; channel++) {
        int[] across = sums[channel];
        for (int x = 0, i = channel; x < columns; i += 3) {
          int end = Math.min(columns, x + cell);
          int sum = 0;
          for (; x < end; x++) {
            sum += across[x];
          }
          cells[i] = sum;
        }
        Arrays.fill(across, 0);
      }
      finish((row - 1) / cell, new Line(cells, marks, new int[] {blockRows}));
      marks = new byte[width];
      blockRows = 0;
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
    int blocks = 0;
    double red = 0;
    double green = 0;
    double blue = 0;
    for (int column = 0, i = 0; column < width; column++, i += 3) {
      int own = tall * Math.min(cell, columns - column * cell);
      if (own != blocks) {
        blocks = own;
        red = stepsOf(redBlack, blocks);
        green = stepsOf(greenBlack, 2 * blocks);
        blue = stepsOf(blueBlack, blocks);
      }
      double r = (line.sums[i] - redBlack * blocks) * red;
      double g = (line.sums[i + 1] - greenBlack * 2 * blocks) * green;
      double b = (line.sums[i + 2] - blueBlack * blocks) * blue;
      int at = y * width + column;
      picture[at] = encoded(r) << 16 | encoded(g) << 8 | encoded(b);
      mask[at] = PreviewPainter.colourOf(line.marks[column]);
      light[at] =
          (line.marks[column] & PixelFlags.CLIPPED) != 0
              ? Float.NaN
              : (float) (Luminance.of(r, g, b) / (SRGB.length - 1));
    }
  }

  /** Steps of the table below to a code of a sum of sites. */
  private double stepsOf(double black, int sites) {
    return (SRGB.length - 1) / ((mosaic.white() - black) * sites);
  }

  private static int encoded(double steps) {
    int step = (int) (steps + 0.5);
    return SRGB[step < 0 ? 0 : step < SRGB.length ? step : SRGB.length - 1];
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
