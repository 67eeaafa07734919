package org.scenespan.frame;

import java.util.ArrayList;
import java.util.List;

/**
 * Counts the pixels of an 8-bit picture with nothing left out and nothing averaged: row by row from
 * the top, or by several tallies at once, each with rows of its own. Which one counts a row makes
 * no difference to the last bit.
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

  /** The slot below the lowest edge; it holds all that is darker, too. */
  static final int FIRST_SLOT = slotOf(Math.pow(2, LogHistogram.FROM_STOPS)) - 1;

  /** The bin of the least value of each slot. */
  static final byte[] BIN_OF_SLOT = new byte[slotOf(1) - FIRST_SLOT + 1];

  /**
   * The greatest value of a slot that is still in that bin, as a double's bits, which have the
   * order of the values.
   */
  static final long[] EDGE_IN_SLOT = new long[BIN_OF_SLOT.length];

  static {
    for (int slot = 0; slot < BIN_OF_SLOT.length; slot++) {
      long least = (long) (slot + FIRST_SLOT) << SLOT_SHIFT;
      long greatest = least + (1L << SLOT_SHIFT) - 1;
      int bin = LogHistogram.binOf(slot == 0 ? 0 : Double.longBitsToDouble(least));
      BIN_OF_SLOT[slot] = (byte) bin;
      EDGE_IN_SLOT[slot] = greatest;
      if (LogHistogram.binOf(Double.longBitsToDouble(greatest)) > bin) {
        EDGE_IN_SLOT[slot] = lastOfBin(bin, least, greatest);
      }
    }
  }

  private final int width;
  private final int height;
  private final FrameSource source;
  private final CodeTone tone;
  final double[] redPart = new double[CODES];
  final double[] greenPart = new double[CODES];
  final double[] bluePart = new double[CODES];
  private final ClippedRuns runs;
  private final double[] rowSquares;
  private final boolean[] taken;
  private final List<PixelTally> tallies = new ArrayList<>();
  private final int[][] planes = new int[3][];
  private final int[] flagPlane;
  private PixelTally own;
  private int rows;

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
    this.runs = new ClippedRuns(height);
    this.rowSquares = new double[height];
    this.taken = new boolean[height];
    int padded = (width + 1) / 2 * 2;
    this.flagPlane = new int[padded];
    for (int channel = 0; channel < planes.length; channel++) {
      planes[channel] = new int[padded];
    }
    for (int code = 0; code < CODES; code++) {
      redPart[code] = tone.space().red() * tone.red(code);
      greenPart[code] = tone.space().green() * tone.green(code);
      bluePart[code] = tone.space().blue() * tone.blue(code);
    }
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
    PixelTally tally = new PixelTally(this, width);
    tallies.add(tally);
    return tally;
  }

  /**
   * Counts the next row of a colour picture.
   *
   * @param rgb red, green and blue of each pixel, one byte each
   * @param flags takes the {@link PixelFlags} of each pixel
   */
  public void colourRow(byte[] rgb, byte[] flags) {
    for (int channel = 0; channel < 3; channel++) {
      int[] plane = planes[channel];
      int half = plane.length / 2;
      for (int x = 0, i = channel; x < width; x++, i += 3) {
        plane[(x & 1) * half + (x >> 1)] = rgb[i] & 0xff;
      }
    }
    nextRow(planes[0], planes[1], planes[2], flags);
  }

  /**
   * Counts the next row of a grey picture, whose three channels are the same.
   *
   * @param grey one byte of each pixel
   * @param flags takes the {@link PixelFlags} of each pixel
   */
  public void greyRow(byte[] grey, byte[] flags) {
    int[] plane = planes[0];
    int half = plane.length / 2;
    for (int x = 0; x < width; x++) {
      plane[(x & 1) * half + (x >> 1)] = grey[x] & 0xff;
    }
    nextRow(plane, plane, plane, flags);
  }

  private void nextRow(int[] red, int[] green, int[] blue, byte[] flags) {
    if (own == null) {
      own = tally();
    }
    own.row(rows, red, green, blue, flagPlane);
    rows++;
    int half = flagPlane.length / 2;
    for (int x = 0; x < width; x++) {
      flags[x] = (byte) flagPlane[(x & 1) * half + (x >> 1)];
    }
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

  void addClipped(int row, int[] flags) {
    runs.planes(row, flags, width);
  }

  /**
   * @param squares sum of the squared differences of the row's luminances to those of their
   *     neighbours on the left and above
   */
  void addRow(int row, double squares) {
    rowSquares[row] = squares;
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
        ClippedRuns.areas(List.of(runs), width));
  }

  /** Mean squared difference over the squared mean; 0 for a black picture or a single pixel. */
  private double sharpness(long[] red, long[] green, long[] blue) {
    double sum = 0;
    for (int code = 0; code < CODES; code++) {
      sum +=
          red[code] * redPart[code] + green[code] * greenPart[code] + blue[code] * bluePart[code];
    }
    double squares = 0;
    for (int row = 0; row < height; row++) {
      squares += rowSquares[row];
    }
    double pairs = (double) (width - 1) * height + (double) width * (height - 1);
    if (!(pairs > 0 && sum > 0)) {
      return 0;
    }
    double mean = sum / ((double) width * height);
    return squares / pairs / (mean * mean);
  }
}
