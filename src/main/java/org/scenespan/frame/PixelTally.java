package org.scenespan.frame;

/**
 * One thread's part of counting a picture of 8 bits, see {@link PixelMeter#tally}.
 *
 * <p>Planes have one code to a pixel: first those of the even columns, then, from index {@code
 * (width + 1) / 2} on, those of the odd ones.
 */
public final class PixelTally {
  private static final int CODES = PixelMeter.CODES;
  private static final int SHOWN_NOTHING = -2;

  private final PixelMeter meter;
  private final int width;
  private final int half;
  private final int[] red = new int[CODES];
  private final int[] green = new int[CODES];
  private final int[] blue = new int[CODES];
  private final int[] brightest = new int[CODES];
  private final int[] luminance = new int[LogHistogram.SATURATED_BIN + 1];
  private final int[] most;
  private final double[] before;
  private final double[] squares;
  private double[] light;
  private double[] above;
  private int last = SHOWN_NOTHING;

  PixelTally(PixelMeter meter, int width) {
    this.meter = meter;
    this.width = width;
    this.half = (width + 1) / 2;
    this.most = new int[2 * half];
    this.before = new double[width];
    this.squares = new double[width];
    // One more for the odd column that a picture of an odd width lacks.
    this.light = new double[2 * half];
    this.above = new double[2 * half];
  }

  /** Only looks at the row above the next one, which another tally counts. */
  public void above(int row, int[] r, int[] g, int[] b) {
    double[] redPart = meter.redPart;
    double[] greenPart = meter.greenPart;
    double[] bluePart = meter.bluePart;
    for (int x = 0; x < width; x++) {
      int i = (x & 1) * half + (x >> 1);
      light[x] = redPart[r[i]] + greenPart[g[i]] + bluePart[b[i]];
    }
    last = row;
  }

  /**
   * Counts a row.
   *
   * @param row 0 at the top; the row above it must have been counted or shown just before
   * @param flags takes the {@link PixelFlags} of each pixel, in the order of the planes
   * @throws IllegalStateException if the row is out of order
   */
  public void row(int row, int[] r, int[] g, int[] b, int[] flags) {
    if (row > 0 && last != row - 1) {
      throw new IllegalStateException("row " + row + " after row " + last);
    }
    meter.takeRow(row);
    double[] swapped = above;
    above = light;
    light = swapped;
    brightestOf(r, g, b, most);
    flagsOf(most, flags);
    meter.addClipped(row, flags);
    int evens = half;
    int odds = width / 2;
    count(r, g, b, 0, evens, 0);
    count(r, g, b, half, odds, 1);
    texture(row);
    last = row;
  }

  private static void brightestOf(int[] r, int[] g, int[] b, int[] into) {
    for (int i = 0; i < into.length; i++) {
      int greener = g[i] - r[i];
      int two = g[i] - (greener & greener >> 31);
      int bluer = b[i] - two;
      into[i] = b[i] - (bluer & bluer >> 31);
    }
  }

  /** Without a branch: 255 is clipped, 0 is crushed. */
  private static void flagsOf(int[] most, int[] flags) {
    for (int i = 0; i < most.length; i++) {
      flags[i] =
          (most[i] + 1 >> 8) * PixelFlags.CLIPPED | (most[i] - 1 >>> 31) * PixelFlags.CRUSHED;
    }
  }

  private void count(int[] r, int[] g, int[] b, int from, int pixels, int column) {
    codes(r, from, pixels, red);
    codes(g, from, pixels, green);
    codes(b, from, pixels, blue);
    codes(most, from, pixels, brightest);
    luminances(r, g, b, from, pixels, column, light);
  }

  private static void codes(int[] plane, int from, int pixels, int[] counts) {
    for (int i = from; i < from + pixels; i++) {
      counts[plane[i]]++;
    }
  }

  private void luminances(
      int[] r, int[] g, int[] b, int from, int pixels, int column, double[] into) {
    double[] redPart = meter.redPart;
    double[] greenPart = meter.greenPart;
    double[] bluePart = meter.bluePart;
    byte[] binOfSlot = PixelMeter.BIN_OF_SLOT;
    long[] edgeInSlot = PixelMeter.EDGE_IN_SLOT;
    int[] counts = luminance;
    for (int i = from, x = column; i < from + pixels; i++, x += 2) {
      double y = redPart[r[i]] + greenPart[g[i]] + bluePart[b[i]];
      into[x] = y;
      long bits = Double.doubleToRawLongBits(y);
      int slot = Math.max(0, (int) (bits >>> PixelMeter.SLOT_SHIFT) - PixelMeter.FIRST_SLOT);
      counts[binOfSlot[slot] + (int) (edgeInSlot[slot] - bits >>> 63)]++;
    }
  }

  private void texture(int row) {
    // Copied beside: the compiler makes no vector instructions of a loop that reads an array at two
    // places.
    before[0] = light[0];
    System.arraycopy(light, 0, before, 1, width - 1);
    if (row == 0) {
      across(light, before, squares);
    } else {
      acrossAndDown(light, before, above, squares);
    }
    meter.addRow(row, sum(squares));
  }

  private static void across(double[] here, double[] before, double[] into) {
    for (int x = 0; x < into.length; x++) {
      double across = here[x] - before[x];
      into[x] = across * across;
    }
  }

  private static void acrossAndDown(double[] here, double[] before, double[] above, double[] into) {
    for (int x = 0; x < into.length; x++) {
      double across = here[x] - before[x];
      double down = here[x] - above[x];
      into[x] = across * across + down * down;
    }
  }

  /** Eight sums side by side, always in the same order, so that a row gives the same anywhere. */
  private double sum(double[] values) {
    double a = 0;
    double b = 0;
    double c = 0;
    double d = 0;
    double e = 0;
    double f = 0;
    double g = 0;
    double h = 0;
    int x = 0;
    for (; x + 8 <= width; x += 8) {
      a += values[x];
      b += values[x + 1];
      c += values[x + 2];
      d += values[x + 3];
      e += values[x + 4];
      f += values[x + 5];
      g += values[x + 6];
      h += values[x + 7];
    }
    for (; x < width; x++) {
      a += values[x];
    }
    return a + b + (c + d) + (e + f + (g + h));
  }

  void addTo(long[] r, long[] g, long[] b, long[] most, long[] y) {
    add(red, r);
    add(green, g);
    add(blue, b);
    add(brightest, most);
    add(luminance, y);
  }

  private static void add(int[] counts, long[] sums) {
    for (int i = 0; i < counts.length; i++) {
      sums[i] += counts[i];
    }
  }
}
