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
  private static final int PAIRS = PackedPixel.PAIRS;
  private static final int LOWER = PAIRS - 1;
  private static final int SHOWN_NOTHING = -2;
  private static final int GROUP = RowOrder.GROUP;

  private static final int MOST_BINS = 128;

  /** A pixel that is neither clipped nor crushed. */
  private static final int NEITHER = 1 << 24;

  private final PixelMeter meter;
  private final RowOrder order;
  private final int groups;

  /** Pixels of each code of the brightest channel with each one of green. */
  private final int[] brightestGreen = new int[PAIRS];

  /** Pixels of each code of red with each one of blue. */
  private final int[] redBlue = new int[PAIRS];

  private int clippedBefore;
  private int crushedBefore;
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
    // A new one, so that the compiler knows its length and checks no index.
    double[] ofGreen = new double[CODES];
    System.arraycopy(meter.light.green, 0, ofGreen, 0, CODES);
    for (int column = 0; column < GROUP; column++) {
      int from = column * groups;
      luminances(pixels, from, order.groupsWith(column), ofGreen, light[column]);
    }
  }

  private void luminances(int[] pixels, int from, int count, double[] ofGreen, double[] into) {
    double[] ofRedBlue = meter.light.redBlue;
    for (int i = 0; i < count; i++) {
      int pixel = pixels[from + i];
      into[i] = ofRedBlue[pixel & LOWER] + ofGreen[pixel >>> 16 & CODES - 1];
    }
  }

  private void count(int row, int[] pixels) {
    if (order.width() == order.length()) {
      count(pixels, 0, pixels.length);
    } else {
      for (int column = 0; column < GROUP; column++) {
        int from = column * groups;
        count(pixels, from, from + order.groupsWith(column));
      }
    }
    int clipped = clipped();
    int crushed = brightestGreen[0];
    boolean hasClipped = clipped > clippedBefore;
    marked = hasClipped || crushed > crushedBefore;
    clippedBefore = clipped;
    crushedBefore = crushed;
    if (marked) {
      mark(pixels);
    }
    if (hasClipped) {
      meter.addClipped(row, pixels, this);
    }
  }

  private void count(int[] pixels, int from, int end) {
    int[] upper = brightestGreen;
    int[] lower = redBlue;
    for (int i = from; i < end; i++) {
      int pixel = pixels[i];
      upper[pixel >>> 16]++;
      lower[pixel & LOWER]++;
    }
  }

  /** Pixels so far whose brightest channel has the highest code. */
  private int clipped() {
    int sum = 0;
    for (int pair = PAIRS - CODES; pair < PAIRS; pair++) {
      sum += brightestGreen[pair];
    }
    return sum;
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
    for (int pair = 0; pair < PAIRS; pair++) {
      int upper = pair / CODES;
      int lower = pair % CODES;
      brightest[upper] += brightestGreen[pair];
      green[lower] += brightestGreen[pair];
      red[upper] += redBlue[pair];
      blue[lower] += redBlue[pair];
    }
    for (int i = 0; i < luminance.length; i++) {
      luminance[i] += bins[i];
    }
  }
}
