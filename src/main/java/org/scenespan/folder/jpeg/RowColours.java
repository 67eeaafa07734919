package org.scenespan.folder.jpeg;

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
  private final int[][] cb = new int[2][];
  private final int[][] cr = new int[2][];
  private final int[] cbColumn;
  private final int[] crColumn;

  RowColours(Layout layout) {
    this.layout = layout;
    this.half = (layout.width() + 1) / 2;
    red = new int[2 * half];
    green = new int[2 * half];
    blue = new int[2 * half];
    for (int odd = 0; odd < 2; odd++) {
      cb[odd] = new int[half];
      cr[odd] = new int[half];
    }
    cbColumn = new int[half + 2];
    crColumn = new int[half + 2];
  }

  int[] red() {
    return red;
  }

  int[] green() {
    return layout.sampling() == Layout.Sampling.GREY ? red : green;
  }

  int[] blue() {
    return layout.sampling() == Layout.Sampling.GREY ? red : blue;
  }

  /**
   * @param ring has the rows of units of the row and its neighbours, each at its number modulo the
   *     ring's size
   */
  void run(Samples[] ring, int y) {
    int mcuHeight = 8 * layout.sampling().down;
    int[][][] planes = ring[y / mcuHeight % ring.length].planes;
    int[] luma = planes[0][y % mcuHeight];
    switch (layout.sampling()) {
      case GREY -> {
        System.arraycopy(luma, 0, red, 0, half);
        System.arraycopy(luma, luma.length / 2, red, half, half);
        return;
      }
      case FULL -> {
        for (int odd = 0; odd < 2; odd++) {
          System.arraycopy(planes[1][y % 8], odd * luma.length / 2, cb[odd], 0, half);
          System.arraycopy(planes[2][y % 8], odd * luma.length / 2, cr[odd], 0, half);
        }
      }
      case HALF_WIDTH -> {
        widen(padded(planes[1][y % 8]), cb, 1, 2, 2);
        widen(padded(planes[2][y % 8]), cr, 1, 2, 2);
      }
      case QUARTER -> {
        int rows = (layout.height() + 1) / 2;
        int near = y / 2;
        int far = Math.max(0, Math.min(rows - 1, near + (y % 2 == 0 ? -1 : 1)));
        blend(plane(ring, 1, near), plane(ring, 1, far), cbColumn);
        blend(plane(ring, 2, near), plane(ring, 2, far), crColumn);
        widen(padded(cbColumn), cb, 8, 7, 4);
        widen(padded(crColumn), cr, 8, 7, 4);
      }
    }
    for (int odd = 0; odd < 2; odd++) {
      int from = odd * (luma.length / 2);
      redOf(luma, from, cr[odd], red, odd * half, half);
      greenOf(luma, from, cb[odd], cr[odd], green, odd * half, half);
      blueOf(luma, from, cb[odd], blue, odd * half, half);
    }
  }

  private static int[] plane(Samples[] ring, int component, int row) {
    return ring[row / 8 % ring.length].planes[component][row % 8];
  }

  /** Repeats the outermost samples; what lies behind the picture's edge does not count. */
  private int[] padded(int[] plane) {
    plane[0] = plane[1];
    plane[half + 1] = plane[half];
    return plane;
  }

  private static void blend(int[] near, int[] far, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = 3 * near[i] + far[i];
    }
  }

  private void widen(int[] plane, int[][] halves, int round, int oddRound, int shift) {
    left(plane, halves[0], round, shift);
    right(plane, halves[1], oddRound, shift);
  }

  private static void left(int[] plane, int[] into, int round, int shift) {
    for (int i = 0; i < into.length; i++) {
      into[i] = 3 * plane[i + 1] + plane[i] + round >> shift;
    }
  }

  private static void right(int[] plane, int[] into, int round, int shift) {
    for (int i = 0; i < into.length; i++) {
      into[i] = 3 * plane[i + 1] + plane[i + 2] + round >> shift;
    }
  }

  private static void redOf(int[] luma, int from, int[] cr, int[] into, int to, int count) {
    for (int i = 0; i < count; i++) {
      int v = luma[from + i] + ((cr[i] - 128) * RED_BY_CR + HALF >> 16);
      into[to + i] = (v & ~(v >> 31) | 255 - v >> 31) & 255;
    }
  }

  private static void greenOf(
      int[] luma, int from, int[] cb, int[] cr, int[] into, int to, int count) {
    for (int i = 0; i < count; i++) {
      int chroma = (128 - cb[i]) * GREEN_BY_CB + (128 - cr[i]) * GREEN_BY_CR;
      int v = luma[from + i] + (chroma + HALF >> 16);
      into[to + i] = (v & ~(v >> 31) | 255 - v >> 31) & 255;
    }
  }

  private static void blueOf(int[] luma, int from, int[] cb, int[] into, int to, int count) {
    for (int i = 0; i < count; i++) {
      int v = luma[from + i] + ((cb[i] - 128) * BLUE_BY_CB + HALF >> 16);
      into[to + i] = (v & ~(v >> 31) | 255 - v >> 31) & 255;
    }
  }
}
