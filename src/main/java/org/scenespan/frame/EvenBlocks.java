package org.scenespan.frame;

import java.util.Arrays;

/**
 * Counts blocks of four sites that share one black level, a whole number: light is then a whole
 * number of steps, and every histogram follows from counts of steps. Only what cannot be told from
 * counts is worked out block by block, in short stretches that a processor's own memory holds.
 */
final class EvenBlocks {
  /** Blocks of a stretch. */
  private static final int STRETCH = 512;

  /**
   * Weights of BT.709's luminance in twenty-thousandths, one green site's as half of the green's.
   */
  private static final int RED = 4252;

  private static final int GREEN = 7152;
  private static final int BLUE = 1444;
  private static final int WHOLE = 20_000;

  /** Slots to a doubling of luminance are a power of two: so many that none holds two edges. */
  private static final int SLOT_BITS = 5;

  private static final int SLOT_SHIFT = 52 - SLOT_BITS;
  private static final int FIRST_SLOT = slotOf(1);
  private static final int SLOTS = slotOf((double) WHOLE * (1 << 16)) - FIRST_SLOT + 1;

  private final int black;

  /** Steps from black to saturation. */
  private final int white;

  private final int redSite;
  private final int greenSite;
  private final int otherGreenSite;
  private final int blueSite;
  private final double unit;

  /** The bin of each slot's least luminance, and the least one that is in the next bin. */
  private final byte[] binOfSlot = new byte[SLOTS];

  private final int[] edgeInSlot = new int[SLOTS];

  /**
   * Counts of steps: of red, of blue, of both greens together and of twice the brightest channel;
   * then those of each slot's luminances below its edge and from it on.
   */
  private final int[] counts;

  private final int blues;
  private final int greens;
  private final int brightest;
  private final int slots;

  private final int[] upper = new int[STRETCH];
  private final int[] lower = new int[STRETCH];
  private final int[] red = new int[STRETCH];
  private final int[] blue = new int[STRETCH];
  private final int[] green = new int[STRETCH];
  private final int[] otherGreen = new int[STRETCH];
  private final int[] both = new int[STRETCH];
  private final int[] most = new int[STRETCH];
  private final int[] luminance = new int[STRETCH];

  private EvenBlocks(Mosaic mosaic) {
    this.black = mosaic.black().get(0).intValue();
    this.white = (int) mosaic.white() - black;
    this.redSite = mosaic.colours().indexOf('R');
    this.blueSite = mosaic.colours().indexOf('B');
    this.greenSite = mosaic.colours().indexOf('G');
    this.otherGreenSite = mosaic.colours().lastIndexOf('G');
    this.unit = 1 / ((double) WHOLE * white);
    this.blues = white + 1;
    this.greens = blues + white + 1;
    this.brightest = greens + 2 * white + 1;
    this.slots = brightest + 2 * white + 1;
    this.counts = new int[slots + 2 * SLOTS];
    for (int slot = 0; slot < SLOTS; slot++) {
      findEdge(slot);
    }
  }

  /** Whether a mosaic is of this kind. */
  static boolean fits(Mosaic mosaic) {
    double black = mosaic.black().get(0);
    return mosaic.black().stream().allMatch(level -> level == black)
        && black == Math.rint(black)
        && mosaic.white() == Math.rint(mosaic.white());
  }

  static EvenBlocks of(Mosaic mosaic) {
    return new EvenBlocks(mosaic);
  }

  private static int slotOf(double value) {
    return (int) (Double.doubleToRawLongBits(value) >>> SLOT_SHIFT);
  }

  private static double leastOf(int slot) {
    return Double.longBitsToDouble((long) (slot + FIRST_SLOT) << SLOT_SHIFT);
  }

  private int binOf(int luminance) {
    return LogHistogram.binOf(luminance / ((double) WHOLE * white));
  }

  /** Luminances are even, and one more than each is looked up, so that none is without a slot. */
  private void findEdge(int slot) {
    int least = (int) Math.ceil(leastOf(slot)) - 1;
    int greatest = (int) Math.min(Integer.MAX_VALUE - 1.0, Math.ceil(leastOf(slot + 1)) - 2);
    int bin = binOf(least);
    binOfSlot[slot] = (byte) bin;
    int in = least;
    int out = greatest;
    if (binOf(greatest) == bin) {
      edgeInSlot[slot] = Integer.MAX_VALUE;
      return;
    }
    while (out - in > 1) {
      int middle = in + (out - in) / 2;
      if (binOf(middle) > bin) {
        out = middle;
      } else {
        in = middle;
      }
    }
    edgeInSlot[slot] = out;
  }

  /**
   * Counts a row of blocks.
   *
   * @param upperPairs two sites of the upper row to a number: the left one in the low 16 bits
   * @param lowerPairs likewise of the lower row
   * @param light takes the luminance of each block relative to saturation
   * @param flags takes the {@link PixelFlags} of each block
   * @return whether any is flagged
   */
  boolean row(
      int[] upperPairs,
      int upperAt,
      int[] lowerPairs,
      int lowerAt,
      int columns,
      double[] light,
      byte[] flags) {
    boolean any = false;
    for (int from = 0; from < columns; from += STRETCH) {
      int length = Math.min(STRETCH, columns - from);
      System.arraycopy(upperPairs, upperAt + from, upper, 0, length);
      System.arraycopy(lowerPairs, lowerAt + from, lower, 0, length);
      steps();
      int marked = counts[brightest] + counts[brightest + 2 * white];
      count(length, light, from);
      if (counts[brightest] + counts[brightest + 2 * white] != marked) {
        flag(length, flags, from);
        any = true;
      } else {
        Arrays.fill(flags, from, from + length, (byte) 0);
      }
    }
    return any;
  }

  /** Each loop is small enough for the compiler to make vector instructions of it. */
  private void steps() {
    steps(redSite, red);
    steps(blueSite, blue);
    steps(greenSite, green);
    steps(otherGreenSite, otherGreen);
    luminances(red, green, otherGreen, blue, luminance);
    sums(green, otherGreen, white, both);
    larger(red, both, most);
    larger(blue, most, most);
  }

  /** Steps of light of a site, 0 to {@link #white}. */
  private void steps(int site, int[] into) {
    int[] pairs = site < 2 ? upper : lower;
    if ((site & 1) == 0) {
      leftSteps(pairs, black, white, into);
    } else {
      rightSteps(pairs, black, white, into);
    }
  }

  private static void leftSteps(int[] pairs, int black, int white, int[] into) {
    for (int i = 0; i < STRETCH; i++) {
      int step = (pairs[i] & 0xffff) - black;
      int over = (step & ~(step >> 31)) - white;
      into[i] = white + (over & over >> 31);
    }
  }

  private static void rightSteps(int[] pairs, int black, int white, int[] into) {
    for (int i = 0; i < STRETCH; i++) {
      int step = (pairs[i] >>> 16) - black;
      int over = (step & ~(step >> 31)) - white;
      into[i] = white + (over & over >> 31);
    }
  }

  private static void luminances(int[] r, int[] g, int[] other, int[] b, int[] into) {
    for (int i = 0; i < STRETCH; i++) {
      into[i] = RED * r[i] + GREEN * (g[i] + other[i]) + BLUE * b[i];
    }
  }

  /** Both greens; saturation as soon as one of them is there. */
  private static void sums(int[] one, int[] other, int white, int[] into) {
    for (int i = 0; i < STRETCH; i++) {
      int sum = one[i] + other[i];
      int clipped = (white - 1 - one[i] | white - 1 - other[i]) >> 31;
      into[i] = sum + (2 * white - sum & clipped);
    }
  }

  /** The larger one of twice a channel's steps and another number. */
  private static void larger(int[] steps, int[] than, int[] into) {
    for (int i = 0; i < STRETCH; i++) {
      int less = than[i] - 2 * steps[i];
      into[i] = 2 * steps[i] + (less & ~(less >> 31));
    }
  }

  /** One table after the other: a loop over several waits for each of them. */
  private void count(int length, double[] light, int from) {
    count(red, length, 0);
    count(both, length, greens);
    count(blue, length, blues);
    count(most, length, brightest);
    countLuminances(length, light, from);
  }

  private void count(int[] steps, int length, int table) {
    int[] all = counts;
    for (int i = 0; i < length; i++) {
      all[table + steps[i]]++;
    }
  }

  private void countLuminances(int length, double[] light, int from) {
    int[] all = counts;
    int[] edges = edgeInSlot;
    double scale = unit;
    int table = slots + 1;
    for (int i = 0; i < length; i++) {
      int step = luminance[i];
      double odd = step + 1;
      light[from + i] = (odd - 1) * scale;
      int slot = (int) (Double.doubleToRawLongBits(odd) >>> SLOT_SHIFT) - FIRST_SLOT;
      all[table + 2 * slot + (step - edges[slot] >> 31)]++;
    }
  }

  private void flag(int length, byte[] flags, int from) {
    int full = 2 * white;
    for (int i = 0; i < length; i++) {
      flags[from + i] =
          most[i] == full ? PixelFlags.CLIPPED : most[i] == 0 ? PixelFlags.CRUSHED : 0;
    }
  }

  /**
   * Adds what was counted.
   *
   * @param histograms of red, green, blue, luminance and the brightest channel
   * @param clipped of red, green, blue and any
   * @param crushed of red, green, blue and all
   */
  void addTo(LogHistogram.Builder[] histograms, long[] clipped, long[] crushed) {
    add(0, white, histograms[0], clipped, crushed, 0);
    add(greens, 2 * white, histograms[1], clipped, crushed, 1);
    add(blues, white, histograms[2], clipped, crushed, 2);
    add(brightest, 2 * white, histograms[4], clipped, crushed, 3);
    for (int slot = 0; slot < SLOTS; slot++) {
      histograms[3].addToBin(binOfSlot[slot], counts[slots + 2 * slot]);
      if (counts[slots + 2 * slot + 1] > 0) {
        histograms[3].addToBin(binOfSlot[slot] + 1, counts[slots + 2 * slot + 1]);
      }
    }
  }

  private void add(
      int from, int full, LogHistogram.Builder into, long[] clipped, long[] crushed, int channel) {
    for (int step = 0; step <= full; step++) {
      if (counts[from + step] > 0) {
        into.add((double) step / full, counts[from + step]);
      }
    }
    clipped[channel] += counts[from + full];
    crushed[channel] += counts[from];
  }
}
