package org.scenespan.frame;

import java.util.ArrayList;
import java.util.List;

/**
 * Counts the pixels of an 8-bit picture with nothing left out and nothing averaged, by one tally or
 * by several at once, each with rows of its own. Which one counts a row makes no difference to the
 * last bit.
 *
 * <p>The histograms of the channels and of the brightest channel follow from counts of code values
 * at no cost per pixel; only luminance is worked out pixel by pixel.
 */
public final class PixelMeter {
  static final int CODES = 256;

  /** Slots to a stop of luminance, so many that none holds more than one edge of two bins. */
  private static final int SLOT_BITS = 5;

  /** Leaves a double's exponent and the topmost bits of its mantissa: the number of its slot. */
  static final int SLOT_SHIFT = 52 - SLOT_BITS;

  /** A value of at most 1 has no higher number of its slot. */
  static final int SLOT_MASK = (1 << 15) - 1;

  /**
   * What is to be added to a double's bits of each slot, so that the upper part of the sum is the
   * number of the bin: a double's bits have the order of the values, and what lies beyond the edge
   * of two bins in the slot carries.
   */
  static final long[] BIN_ABOVE = new long[SLOT_MASK + 1];

  static {
    int lowest = slotOf(Math.pow(2, LogHistogram.FROM_STOPS));
    int highest = slotOf(1);
    for (int slot = 0; slot <= highest; slot++) {
      long least = (long) slot << SLOT_SHIFT;
      long greatest = least + (1L << SLOT_SHIFT) - 1;
      int bin = slot < lowest - 1 ? 0 : LogHistogram.binOf(Double.longBitsToDouble(least));
      long edge = greatest;
      if (slot >= lowest - 1 && LogHistogram.binOf(Double.longBitsToDouble(greatest)) > bin) {
        edge = lastOfBin(bin, least, greatest);
      }
      BIN_ABOVE[slot] = ((long) bin << SLOT_SHIFT) + greatest - edge - least;
    }
  }

  private final int width;
  private final int height;
  private final FrameSource source;
  private final CodeTone tone;

  /** What the codes add to luminance. */
  final CodeLuminance light;

  private final ClippedRuns runs;

  /** Parts side by side. */
  private final int columns;

  /** Of each band's parts. */
  private final double[] partSquares;

  private final double[] partLight;
  private final boolean[] taken;
  private final List<PixelTally> tallies = new ArrayList<>();

  /**
   * @param width pixels
   * @param height pixels
   * @param response of 8-bit codes, the same for every channel, never decreasing
   */
  public PixelMeter(int width, int height, FrameSource source, ToneResponse response) {
    this(width, height, source, CodeTone.of(ColourSpace.SRGB, response));
  }

  /** For codes of a colour space. */
  public PixelMeter(int width, int height, FrameSource source, ColourSpace space) {
    this(width, height, source, CodeTone.of(space));
  }

  /** For codes whose responses may be the camera's own. */
  public PixelMeter(int width, int height, FrameSource source, CodeTone tone) {
    if (!(width > 0 && height > 0)) {
      throw new IllegalArgumentException(
          "a picture's size (" + width + " x " + height + ") must be above 0");
    }
    this.width = width;
    this.height = height;
    this.source = source;
    this.tone = tone;
    this.light = tone.luminances();
    this.runs = new ClippedRuns(height);
    this.columns = RegionSums.columnsOf(width);
    this.partSquares = new double[BandSums.bandsOf(height) * columns];
    this.partLight = new double[partSquares.length];
    this.taken = new boolean[height];
  }

  private static int slotOf(double value) {
    return (int) (Double.doubleToRawLongBits(value) >>> SLOT_SHIFT);
  }

  private static long lastOfBin(int bin, long least, long greatest) {
    long in = least;
    long out = greatest;
    while (out - in > 1) {
      long middle = in + (out - in) / 2;
      if (LogHistogram.binOf(Double.longBitsToDouble(middle)) > bin) {
        out = middle;
      } else {
        in = middle;
      }
    }
    return in;
  }

  /** A part of the counting for one thread; its counts are in the measure. */
  public synchronized PixelTally tally() {
    PixelTally tally = new PixelTally(this, width, height);
    tallies.add(tally);
    return tally;
  }

  void takeRow(int row) {
    if (!(row >= 0 && row < height)) {
      throw new IllegalStateException("more than " + height + " rows");
    }
    if (taken[row]) {
      throw new IllegalStateException("row " + row + " comes twice");
    }
    taken[row] = true;
  }

  void addClipped(int row, int[] pixels, PixelTally marks) {
    runs.packed(row, pixels, new RowOrder(width), marks::isMarked);
  }

  void addBand(int band, BandSums sums) {
    sums.sum(partSquares, partLight, band * columns);
  }

  /**
   * To be called when all tallies have ended.
   *
   * @throws IllegalStateException if a row is missing
   */
  public synchronized FrameMeasure measure() {
    for (int row = 0; row < height; row++) {
      if (!taken[row]) {
        throw new IllegalStateException("row " + row + " of " + height + " was not counted");
      }
    }
    long[] red = new long[CODES];
    long[] green = new long[CODES];
    long[] blue = new long[CODES];
    long[] brightest = new long[CODES];
    long[] luminance = new long[LogHistogram.SATURATED_BIN + 1];
    for (PixelTally tally : tallies) {
      tally.addTo(red, green, blue, brightest, luminance);
    }
    int top = CODES - 1;
    return new FrameMeasure(
        width,
        height,
        source,
        (long) width * height,
        new PixelCounts(red[top], green[top], blue[top], brightest[top]),
        new PixelCounts(red[0], green[0], blue[0], brightest[0]),
        LogHistogram.ofCodes(red, tone::red),
        LogHistogram.ofCodes(green, tone::green),
        LogHistogram.ofCodes(blue, tone::blue),
        LogHistogram.ofCounts(luminance),
        LogHistogram.ofCodes(brightest, tone::most),
        sharpness(red, green, blue),
        ClippedRuns.areas(List.of(runs), width),
        regions());
  }

  private SharpnessGrid regions() {
    RegionSums sums = new RegionSums(width, height);
    BandSums bands = new BandSums(width, height);
    for (int row = 0; row < height; row++) {
      if (bands.endsWith(row)) {
        int at = bands.bandOf(row) * columns;
        for (int column = 0; column < columns; column++) {
          sums.add(column, sums.lineOf(row), partSquares[at + column], partLight[at + column]);
        }
      }
    }
    return sums.grid();
  }

  /** Mean squared difference over the squared mean; 0 for a black picture or a single pixel. */
  private double sharpness(long[] red, long[] green, long[] blue) {
    double sum = 0;
    for (int code = 0; code < CODES; code++) {
      sum +=
          red[code] * light.red[code]
              + green[code] * light.green[code]
              + blue[code] * light.blue[code];
    }
    double squares = 0;
    for (double part : partSquares) {
      squares += part;
    }
    double pairs = (double) (width - 1) * height + (double) width * (height - 1);
    if (!(pairs > 0 && sum > 0)) {
      return 0;
    }
    double mean = sum / ((double) width * height);
    return squares / pairs / (mean * mean);
  }
}
