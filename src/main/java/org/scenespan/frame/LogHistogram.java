package org.scenespan.frame;

import java.util.Arrays;
import java.util.function.IntToDoubleFunction;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * Counts of pixels by linear light in stops relative to saturation: 0 is clipping, negative is
 * darker. Sixteen stops at six bins each, and one bin for what is saturated.
 *
 * <p>No pixel is lost: the first bin holds everything darker than its upper edge, black included,
 * and the last holds everything at saturation or above. Immutable.
 */
public final class LogHistogram {
  public static final int BINS_PER_STOP = 6;

  /** The lower edge of the first bin, stops. */
  public static final double FROM_STOPS = -16;

  /** Bins below saturation; one more, at this index, holds what is saturated. */
  public static final int SATURATED_BIN = (int) (-FROM_STOPS * BINS_PER_STOP);

  /** The least linear value of each bin. */
  private static final double[] EDGES = new double[SATURATED_BIN + 1];

  /** Slots to a stop, so many that none holds more than one edge. */
  private static final int SLOT_BITS = 5;

  /** Leaves a double's exponent and the topmost bits of its mantissa: the number of its slot. */
  private static final int SLOT_SHIFT = 52 - SLOT_BITS;

  private static final int FIRST_SLOT =
      (int) (Double.doubleToRawLongBits(Math.pow(2, FROM_STOPS)) >>> SLOT_SHIFT);

  /** The bin of the least value of each slot, so that a pixel costs no logarithm. */
  private static final byte[] BIN_OF_SLOT = new byte[(int) -FROM_STOPS << SLOT_BITS];

  static {
    for (int bin = 0; bin <= SATURATED_BIN; bin++) {
      EDGES[bin] = Math.pow(2, FROM_STOPS + (double) bin / BINS_PER_STOP) * (1 - 1e-10);
    }
    int bin = 0;
    for (int slot = 0; slot < BIN_OF_SLOT.length; slot++) {
      double least = Double.longBitsToDouble((long) (slot + FIRST_SLOT) << SLOT_SHIFT);
      while (EDGES[bin + 1] <= least) {
        bin++;
      }
      BIN_OF_SLOT[slot] = (byte) bin;
    }
  }

  private final long[] counts;
  private final long total;

  private LogHistogram(long[] counts) {
    this.counts = counts;
    this.total = Arrays.stream(counts).sum();
  }

  /** A histogram from its bins, first the darkest; {@link #SATURATED_BIN} + 1 of them. */
  public static LogHistogram ofCounts(long[] counts) {
    if (counts.length != SATURATED_BIN + 1) {
      throw new IllegalArgumentException(
          "bins (" + counts.length + ") must be " + (SATURATED_BIN + 1));
    }
    for (long count : counts) {
      if (!(count >= 0)) {
        throw new IllegalArgumentException("a bin's count (" + count + ") must be 0 or more");
      }
    }
    return new LogHistogram(counts.clone());
  }

  /**
   * A histogram from counts of code values, at no cost per pixel.
   *
   * @param codeCounts pixels at each code value
   * @param linear linear light of a code relative to saturation, 1 at clipping; never decreasing
   */
  public static LogHistogram ofCodes(long[] codeCounts, IntToDoubleFunction linear) {
    Builder builder = new Builder();
    for (int code = 0; code < codeCounts.length; code++) {
      if (codeCounts[code] > 0) {
        builder.add(linear.applyAsDouble(code), codeCounts[code]);
      }
    }
    return builder.build();
  }

  /**
   * The bin of a linear value relative to saturation; NaN and all below go to the first. A value
   * within a part in 10^10 below an edge is taken to be on it: the three weights of luminance add
   * up to a white that rounding puts just below 1.
   */
  public static int binOf(double linear) {
    if (!(linear >= EDGES[1])) {
      return 0;
    }
    if (linear >= EDGES[SATURATED_BIN]) {
      return SATURATED_BIN;
    }
    int bin = BIN_OF_SLOT[(int) (Double.doubleToRawLongBits(linear) >>> SLOT_SHIFT) - FIRST_SLOT];
    return linear >= EDGES[bin + 1] ? bin + 1 : bin;
  }

  /** The lower edge of a bin, stops relative to saturation; 0 for the saturated one. */
  public static Stops lowerEdge(int bin) {
    return new Stops(FROM_STOPS + (double) bin / BINS_PER_STOP);
  }

  public long total() {
    return total;
  }

  public long count(int bin) {
    return counts[bin];
  }

  /** A copy of the bins, the darkest first. */
  public long[] counts() {
    return counts.clone();
  }

  /**
   * The share of pixels at or above a level; within a bin, pixels are taken as evenly spread. Black
   * in the first bin is below every level above its lower edge in proportion.
   */
  public Share shareAtOrAbove(Stops level) {
    double position = (level.value() - FROM_STOPS) * BINS_PER_STOP;
    if (total == 0 || position > SATURATED_BIN + 1e-9) {
      return Share.NONE;
    }
    double above = 0;
    for (int bin = 0; bin <= SATURATED_BIN; bin++) {
      above += counts[bin] * Math.min(1, Math.max(0, bin + 1 - position));
    }
    // The saturated bin has no width: all of it is at or above any level up to saturation.
    above += counts[SATURATED_BIN] * (1 - Math.min(1, Math.max(0, SATURATED_BIN + 1 - position)));
    return new Share(Math.min(1, above / total));
  }

  /** The share of pixels below a level, 1 − {@link #shareAtOrAbove}. */
  public Share shareBelow(Stops level) {
    return new Share(Math.max(0, 1 - shareAtOrAbove(level).value()));
  }

  /**
   * The level below which a share of the pixels lies, in stops relative to saturation; at least the
   * first bin's lower edge, at most 0 (saturated).
   */
  public Stops percentile(Share below) {
    if (total == 0) {
      throw new IllegalStateException("a histogram of no pixels has no percentile");
    }
    double wanted = below.value() * total;
    double passed = 0;
    for (int bin = 0; bin < SATURATED_BIN; bin++) {
      if (counts[bin] > 0 && passed + counts[bin] >= wanted) {
        double within = (wanted - passed) / counts[bin];
        return new Stops(lowerEdge(bin).value() + within / BINS_PER_STOP);
      }
      passed += counts[bin];
    }
    return Stops.ZERO;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof LogHistogram that && Arrays.equals(counts, that.counts);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(counts);
  }

  @Override
  public String toString() {
    return total + " pixels";
  }

  /** Collects pixels; not for sharing between threads. */
  public static final class Builder {
    private final long[] counts = new long[SATURATED_BIN + 1];

    /**
     * @param linear linear light relative to saturation, 1 at clipping
     * @param pixels how many pixels
     */
    public void add(double linear, long pixels) {
      counts[binOf(linear)] += pixels;
    }

    /** Adds pixels whose bin is already known, for a caller with a table of bins. */
    public void addToBin(int bin, long pixels) {
      counts[bin] += pixels;
    }

    public LogHistogram build() {
      return new LogHistogram(counts.clone());
    }
  }
}
