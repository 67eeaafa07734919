package org.scenespan.frame;

import java.util.Arrays;

/**
 * One thread's part of counting a picture of 8 bits, see {@link PixelMeter#tally}.
 *
 * <p>A row has one {@linkplain PackedPixel packed pixel} to a column, in the {@link RowOrder}. Rows
 * are taken in bands: one that begins at a multiple of {@link #BAND} is followed by the rest of its
 * band, so that what is summed up over a band is the same whoever took it.
 */
public final class PixelTally {
  /** Rows to a band, which is cut once more where a {@link RegionSums} has its lines. */
  public static final int BAND = 8;

  private static final int CODES = PixelMeter.CODES;
  private static final int SHOWN_NOTHING = -2;
  private static final int GROUP = RowOrder.GROUP;

  // The counts of a row lie in one array, whose length the compiler knows, and so do the parts of
  // luminance: no index is then checked.
  private static final int GREEN = CODES;
  private static final int BLUE = 2 * CODES;
  private static final int BRIGHTEST = 3 * CODES;
  private static final int COUNTS = 4 * CODES;
  private static final int MOST_BINS = 128;

  /** A pixel that is neither clipped nor crushed. */
  private static final int NEITHER = 1 << 24;

  private final PixelMeter meter;
  private final RowOrder order;
  private final int groups;
  private final int[] counts = new int[COUNTS];
  private final int[] bins = new int[MOST_BINS];

  /** Below 0 where the last row has a clipped or crushed pixel in a group. */
  private final int[] marks;

  private final int[] run;
  private final double[] before;
  private final BandSums sums;

  /** The luminances of a row, those of each column of the groups apart. */
  private double[][] light;

  private double[][] above;
  private int last = SHOWN_NOTHING;
  private int counted = SHOWN_NOTHING;
  private boolean marked;

  PixelTally(PixelMeter meter, int width, int height) {
    this.meter = meter;
    this.order = new RowOrder(width);
    this.groups = order.groups();
    this.marks = new int[groups];
    this.run = new int[groups];
    this.before = new double[groups];
    this.sums = new BandSums(width, height);
    this.light = new double[GROUP][groups];
    this.above = new double[GROUP][groups];
  }

  /** Only looks at the row above the next one, which another tally counts. */
  public void above(int row, int[] pixels) {
    luminances(pixels);
    last = row;
  }

  /**
   * Counts a row.
   *
   * @param row 0 at the top; the row above it must have been counted, or at the start of a band
   *     shown, just before
   * @throws IllegalStateException if the row is out of order
   */
  public void row(int row, int[] pixels) {
    if (row > 0 && last != row - 1 || row % BAND != 0 && counted != row - 1) {
      throw new IllegalStateException("row " + row + " after row " + last);
    }
    meter.takeRow(row);
    double[][] swapped = above;
    above = light;
    light = swapped;
    count(row, pixels);
    luminances(pixels);
    countLight();
    texture(row);
    if (sums.endsWith(row)) {
      meter.addBand(sums.bandOf(row), sums);
      sums.clear();
    }
    last = row;
    counted = row;
  }

  /** Whether the last row has any clipped or crushed pixel. */
  public boolean hasMarks() {
    return marked;
  }

  /** Whether the last row has a clipped or crushed pixel in a group of columns. */
  public boolean isMarked(int group) {
    return marks[group] < 0;
  }

  private void luminances(int[] pixels) {
    double[] parts = new double[3 * CODES];
    System.arraycopy(meter.parts, 0, parts, 0, parts.length);
    for (int column = 0; column < GROUP; column++) {
      double[] into = light[column];
      int from = column * groups;
      int end = order.groupsWith(column);
      for (int i = 0; i < end; i++) {
        int pixel = pixels[from + i];
        into[i] =
            parts[pixel >>> 16 & 255]
                + parts[GREEN + (pixel >>> 8 & 255)]
                + parts[BLUE + (pixel & 255)];
      }
    }
  }

  private void count(int row, int[] pixels) {
    // New ones, so that the compiler knows their lengths and checks no index.
    int[] codes = new int[COUNTS];
    if (order.width() == order.length()) {
      count(pixels, 0, pixels.length, codes);
    } else {
      for (int column = 0; column < GROUP; column++) {
        int from = column * groups;
        count(pixels, from, from + order.groupsWith(column), codes);
      }
    }
    for (int i = 0; i < COUNTS; i++) {
      counts[i] += codes[i];
    }
    boolean clipped = codes[BRIGHTEST + CODES - 1] > 0;
    marked = clipped || codes[BRIGHTEST] > 0;
    if (marked) {
      mark(pixels);
    }
    if (clipped) {
      meter.addClipped(row, pixels, this);
    }
  }

  private static void count(int[] pixels, int from, int end, int[] codes) {
    for (int i = from; i < end; i++) {
      int pixel = pixels[i];
      codes[pixel >>> 16 & 255]++;
      codes[GREEN + (pixel >>> 8 & 255)]++;
      codes[BLUE + (pixel & 255)]++;
      codes[BRIGHTEST + (pixel >>> 24)]++;
    }
  }

  private void mark(int[] pixels) {
    Arrays.fill(marks, 0);
    for (int column = 0; column < GROUP; column++) {
      System.arraycopy(pixels, column * groups, run, 0, groups);
      if (order.groupsWith(column) < groups) {
        run[groups - 1] = NEITHER;
      }
      mark(run, marks);
    }
  }

  /** One more than the brightest channel's code is 1 or, without its ninth bit, 0. */
  private static void mark(int[] pixels, int[] marks) {
    for (int i = 0; i < marks.length; i++) {
      marks[i] |= ((pixels[i] >>> 24) + 1 & 255) - 2;
    }
  }

  /** Two columns at a time into two tables, so that no count waits for the one before. */
  private void countLight() {
    int[] some = new int[MOST_BINS];
    int[] others = new int[MOST_BINS];
    long[] binAbove = PixelMeter.BIN_ABOVE;
    for (int column = 0; column < GROUP; column += 2) {
      double[] left = light[column];
      double[] right = light[column + 1];
      int both = order.groupsWith(column + 1);
      for (int i = 0; i < both; i++) {
        some[bin(left[i], binAbove)]++;
        others[bin(right[i], binAbove)]++;
      }
      if (order.groupsWith(column) > both) {
        some[bin(left[both], binAbove)]++;
      }
    }
    for (int i = 0; i < MOST_BINS; i++) {
      bins[i] += some[i] + others[i];
    }
  }

  private static int bin(double y, long[] binAbove) {
    long bits = Double.doubleToRawLongBits(y);
    int slot = (int) (bits >>> PixelMeter.SLOT_SHIFT) & PixelMeter.SLOT_MASK;
    return (int) (bits + binAbove[slot] >>> PixelMeter.SLOT_SHIFT) & MOST_BINS - 1;
  }

  private void texture(int row) {
    // The column on the left of a group's first is the last one of the group before.
    before[0] = light[0][0];
    System.arraycopy(light[GROUP - 1], 0, before, 1, groups - 1);
    for (int column = 0; column < GROUP; column++) {
      double[] left = column == 0 ? before : light[column - 1];
      double[] up = row == 0 ? light[column] : above[column];
      sums.add(column, light[column], left, up);
    }
  }

  void addTo(long[] red, long[] green, long[] blue, long[] brightest, long[] luminance) {
    add(0, red);
    add(GREEN, green);
    add(BLUE, blue);
    add(BRIGHTEST, brightest);
    for (int i = 0; i < luminance.length; i++) {
      luminance[i] += bins[i];
    }
  }

  private void add(int from, long[] totals) {
    for (int i = 0; i < totals.length; i++) {
      totals[i] += counts[from + i];
    }
  }
}
