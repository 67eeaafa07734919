package org.scenespan.frame;

import java.util.Arrays;

/**
 * One thread's part of counting a picture of 8 bits, see {@link PixelMeter#tally}.
 *
 * <p>Rows have one {@linkplain PackedPixel packed pixel} to a column: first the even columns, then,
 * from index {@code (width + 1) / 2} on, the odd ones.
 */
public final class PixelTally {
  /** Pairs of neighbouring columns to a {@linkplain #isMarked stretch}. */
  public static final int STRETCH = 256;

  private static final int CODES = PixelMeter.CODES;
  private static final int SHOWN_NOTHING = -2;

  // The counts of a row lie in one array, whose length the compiler knows, and so do the parts of
  // luminance: no index is then checked.
  private static final int GREEN = CODES;
  private static final int BLUE = 2 * CODES;
  private static final int BRIGHTEST = 3 * CODES;
  private static final int LUMINANCE = 4 * CODES;
  private static final int MOST_BINS = 128;
  private static final int COUNTS = LUMINANCE + MOST_BINS;

  private final PixelMeter meter;
  private final int width;
  private final int half;
  private final int[] counts = new int[COUNTS];
  private final boolean[] marked;
  private final double[] before;
  private final double[] squares;
  private final double[] oddSquares;
  private final int[] firstPair;
  private final double[] partSquares;
  private final double[] partLight;
  private Light light;
  private Light above;
  private int last = SHOWN_NOTHING;

  /** The luminances of a row's even and odd columns, apart: neighbours of each other. */
  private static final class Light {
    final double[] even;
    final double[] odd;

    Light(int half) {
      even = new double[half];
      odd = new double[half];
    }
  }

  PixelTally(PixelMeter meter, int width) {
    this.meter = meter;
    this.width = width;
    this.half = (width + 1) / 2;
    this.marked = new boolean[(half + STRETCH - 1) / STRETCH];
    this.before = new double[half];
    this.squares = new double[half];
    this.oddSquares = new double[half];
    int parts = RegionSums.columnsOf(width);
    this.firstPair = new int[parts + 1];
    Arrays.setAll(firstPair, part -> RegionSums.firstPair(part, width));
    this.partSquares = new double[parts];
    this.partLight = new double[parts];
    this.light = new Light(half);
    this.above = new Light(half);
  }

  /** Only looks at the row above the next one, which another tally counts. */
  public void above(int row, int[] pixels) {
    luminances(pixels, 0, half, light.even);
    luminances(pixels, half, width / 2, light.odd);
    last = row;
  }

  /**
   * Counts a row.
   *
   * @param row 0 at the top; the row above it must have been counted or shown just before
   * @throws IllegalStateException if the row is out of order
   */
  public void row(int row, int[] pixels) {
    if (row > 0 && last != row - 1) {
      throw new IllegalStateException("row " + row + " after row " + last);
    }
    meter.takeRow(row);
    Light swapped = above;
    above = light;
    light = swapped;
    boolean clipped = count(pixels);
    if (clipped) {
      meter.addClipped(row, pixels, marked);
    }
    texture(row);
    last = row;
  }

  /** Stretches of the last row, {@link #STRETCH} pairs of columns each. */
  public int stretches() {
    return marked.length;
  }

  /** Whether a stretch of the last row has a clipped or crushed pixel. */
  public boolean isMarked(int stretch) {
    return marked[stretch];
  }

  private void luminances(int[] pixels, int from, int columns, double[] into) {
    double[] parts = meter.parts;
    for (int i = 0; i < columns; i++) {
      int pixel = pixels[from + i];
      into[i] =
          parts[pixel >>> 16 & 255]
              + parts[GREEN + (pixel >>> 8 & 255)]
              + parts[BLUE + (pixel & 255)];
    }
  }

  /** Whether any pixel is clipped. */
  private boolean count(int[] pixels) {
    // New ones, so that the compiler knows their lengths and checks no index.
    int[] row = new int[COUNTS];
    double[] parts = Arrays.copyOf(meter.parts, 3 * CODES);
    long[] binAbove = PixelMeter.BIN_ABOVE;
    for (int stretch = 0; stretch < marked.length; stretch++) {
      int marks = row[BRIGHTEST] + row[BRIGHTEST + CODES - 1];
      int from = stretch * STRETCH;
      for (int odd = 0; odd < 2; odd++) {
        double[] into = odd == 0 ? light.even : light.odd;
        int end = Math.min(odd == 0 ? half : width / 2, from + STRETCH);
        int shift = odd * half;
        for (int i = from; i < end; i++) {
          int pixel = pixels[i + shift];
          int red = pixel >>> 16 & 255;
          int green = pixel >>> 8 & 255;
          int blue = pixel & 255;
          row[red]++;
          row[GREEN + green]++;
          row[BLUE + blue]++;
          row[BRIGHTEST + (pixel >>> 24)]++;
          double y = parts[red] + parts[GREEN + green] + parts[BLUE + blue];
          into[i] = y;
          long bits = Double.doubleToRawLongBits(y);
          int slot = (int) (bits >>> PixelMeter.SLOT_SHIFT) & PixelMeter.SLOT_MASK;
          int bin = (int) (bits + binAbove[slot] >>> PixelMeter.SLOT_SHIFT) & MOST_BINS - 1;
          row[LUMINANCE + bin]++;
        }
      }
      marked[stretch] = row[BRIGHTEST] + row[BRIGHTEST + CODES - 1] != marks;
    }
    for (int i = 0; i < COUNTS; i++) {
      counts[i] += row[i];
    }
    return row[BRIGHTEST + CODES - 1] > 0;
  }

  private void texture(int row) {
    // Copied beside: the column on the left of an even one is the odd one before.
    before[0] = light.even[0];
    System.arraycopy(light.odd, 0, before, 1, half - 1);
    if (row == 0) {
      across(light.even, before, squares);
      across(light.odd, light.even, oddSquares);
    } else {
      acrossAndDown(light.even, before, above.even, squares);
      acrossAndDown(light.odd, light.even, above.odd, oddSquares);
    }
    for (int part = 0; part < partSquares.length; part++) {
      sum(part);
    }
    meter.addRow(row, partSquares, partLight);
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

  /** Several sums side by side, always in the same order, so that a row gives the same anywhere. */
  private void sum(int part) {
    int from = firstPair[part];
    int end = firstPair[part + 1];
    int odds = Math.min(end, width / 2);
    partSquares[part] = sum(squares, oddSquares, from, end, odds);
    partLight[part] = sum(light.even, light.odd, from, end, odds);
  }

  private static double sum(double[] even, double[] odd, int from, int end, int odds) {
    double a = 0;
    double b = 0;
    double c = 0;
    double d = 0;
    double e = 0;
    double f = 0;
    double g = 0;
    double h = 0;
    int i = from;
    for (; i + 4 <= odds; i += 4) {
      a += even[i];
      b += odd[i];
      c += even[i + 1];
      d += odd[i + 1];
      e += even[i + 2];
      f += odd[i + 2];
      g += even[i + 3];
      h += odd[i + 3];
    }
    for (; i < end; i++) {
      a += even[i];
      b += i < odds ? odd[i] : 0;
    }
    return a + b + (c + d) + (e + f + (g + h));
  }

  void addTo(long[] red, long[] green, long[] blue, long[] brightest, long[] luminance) {
    add(0, red);
    add(GREEN, green);
    add(BLUE, blue);
    add(BRIGHTEST, brightest);
    add(LUMINANCE, luminance);
  }

  private void add(int from, long[] sums) {
    for (int i = 0; i < sums.length; i++) {
      sums[i] += counts[from + i];
    }
  }
}
