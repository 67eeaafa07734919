package org.scenespan.folder.jpeg;

import java.util.Arrays;

/**
 * Joins luma and chroma to rows of red, green and blue, in halves as {@link RowSink} takes them.
 * One to a thread.
 *
 * <p>Chroma of half the width or height is weighed 3 to 1 with its neighbour's, with libjpeg's
 * rounding; colours follow JFIF (ITU-T T.871, clause 7) in 16 bits of fraction.
 */
final class RowColours {
  private static final int RED_BY_CR = 91881; // 1.402
  private static final int GREEN_BY_CB = 22554; // 0.34414
  private static final int GREEN_BY_CR = 46802; // 0.71414
  private static final int BLUE_BY_CB = 116130; // 1.772
  private static final int HALF = 1 << 15;

  private final Layout layout;
  private final int half;
  private final int[] red;
  private final int[] green;
  private final int[] blue;
  private final int[] luma;
  private final int[] cb;
  private final int[] cr;
  private final int[] blended;
  private final int[] centres;
  private final int[] neighbours;
  private final int[] rounds;
  private final int[] brightest;
  private final int[] pixels;

  RowColours(Layout layout) {
    this.layout = layout;
    this.half = (layout.width() + 1) / 2;
    red = new int[2 * half];
    green = new int[2 * half];
    blue = new int[2 * half];
    luma = new int[2 * half];
    cb = new int[2 * half];
    cr = new int[2 * half];
    blended = new int[half + 2];
    centres = new int[2 * half];
    neighbours = new int[2 * half];
    rounds = new int[2 * half];
    brightest = new int[2 * half];
    pixels = new int[2 * half];
    boolean quarter = layout.sampling() == Layout.Sampling.QUARTER;
    Arrays.fill(rounds, 0, half, quarter ? 8 : 1);
    Arrays.fill(rounds, half, 2 * half, quarter ? 7 : 2);
  }

  /**
   * @param ring has the rows of units of the row and its neighbours, each at its number modulo the
   *     ring's size
   * @return the row's packed pixels, until the next call
   */
  int[] run(Samples[] ring, int y) {
    int mcuHeight = 8 * layout.sampling().down;
    int[][][] planes = ring[y / mcuHeight % ring.length].planes;
    switch (layout.sampling()) {
      case GREY -> {
        halves(planes[0][y % 8], luma);
        grey(luma, pixels);
        return pixels;
      }
      case FULL -> {
        halves(planes[1][y % 8], cb);
        halves(planes[2][y % 8], cr);
      }
      case HALF_WIDTH -> {
        widen(planes[1][y % 8], cb, 2);
        widen(planes[2][y % 8], cr, 2);
      }
      case QUARTER -> {
        int rows = (layout.height() + 1) / 2;
        int near = y / 2;
        int far = Math.max(0, Math.min(rows - 1, near + (y % 2 == 0 ? -1 : 1)));
        blend(plane(ring, 1, near), plane(ring, 1, far), blended);
        widen(blended, cb, 4);
        blend(plane(ring, 2, near), plane(ring, 2, far), blended);
        widen(blended, cr, 4);
      }
    }
    halves(planes[0][y % mcuHeight], luma);
    redOf(luma, cr, red);
    greenOf(luma, cb, cr, green);
    blueOf(luma, cb, blue);
    clamp(red);
    clamp(green);
    clamp(blue);
    brightestOf(red, green, blue, brightest);
    pack(brightest, red, green, blue, pixels);
    return pixels;
  }

  private void halves(int[] plane, int[] into) {
    System.arraycopy(plane, 0, into, 0, half);
    System.arraycopy(plane, plane.length / 2, into, half, half);
  }

  private static int[] plane(Samples[] ring, int component, int row) {
    return ring[row / 8 % ring.length].planes[component][row % 8];
  }

  private static void blend(int[] near, int[] far, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = 3 * near[i] + far[i];
    }
  }

  /**
   * Weighs each sample with its left neighbour for the even column and with its right one for the
   * odd one; the outermost samples are their own neighbours. The neighbours are copied beside, for
   * the compiler makes no vector instructions of a loop that reads a plane at two places.
   */
  private void widen(int[] plane, int[] into, int shift) {
    System.arraycopy(plane, 1, centres, 0, half);
    System.arraycopy(plane, 1, centres, half, half);
    System.arraycopy(plane, 1, neighbours, 1, half - 1);
    neighbours[0] = plane[1];
    System.arraycopy(plane, 2, neighbours, half, half - 1);
    neighbours[2 * half - 1] = plane[half];
    weigh(centres, neighbours, rounds, into, shift);
  }

  private static void weigh(int[] centres, int[] neighbours, int[] rounds, int[] into, int shift) {
    for (int i = 0; i < into.length; i++) {
      into[i] = 3 * centres[i] + neighbours[i] + rounds[i] >> shift;
    }
  }

  private static void redOf(int[] luma, int[] cr, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = luma[i] + ((cr[i] - 128) * RED_BY_CR + HALF >> 16);
    }
  }

  private static void greenOf(int[] luma, int[] cb, int[] cr, int[] into) {
    for (int i = 0; i < into.length; i++) {
      int chroma = (128 - cb[i]) * GREEN_BY_CB + (128 - cr[i]) * GREEN_BY_CR;
      into[i] = luma[i] + (chroma + HALF >> 16);
    }
  }

  private static void blueOf(int[] luma, int[] cb, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = luma[i] + ((cb[i] - 128) * BLUE_BY_CB + HALF >> 16);
    }
  }

  /** Apart from the sums: the compiler of JDK 17 makes vector instructions of short loops only. */
  private static void clamp(int[] plane) {
    for (int i = 0; i < plane.length; i++) {
      int v = plane[i];
      plane[i] = (v & ~(v >> 31) | 255 - v >> 31) & 255;
    }
  }

  private static void brightestOf(int[] red, int[] green, int[] blue, int[] into) {
    for (int i = 0; i < into.length; i++) {
      int greener = green[i] - red[i];
      int two = green[i] - (greener & greener >> 31);
      int bluer = blue[i] - two;
      into[i] = blue[i] - (bluer & bluer >> 31);
    }
  }

  private static void pack(int[] brightest, int[] red, int[] green, int[] blue, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = brightest[i] << 24 | red[i] << 16 | green[i] << 8 | blue[i];
    }
  }

  private static void grey(int[] luma, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = luma[i] * 0x1010101;
    }
  }
}
