package org.scenespan.folder.jpeg;

import org.scenespan.frame.RowOrder;

/**
 * Joins luma and chroma to rows of red, green and blue, in the {@link RowOrder}. One to a thread.
 *
 * <p>Colours follow JFIF (ITU-T T.871, clause 7) in 16 bits of fraction.
 */
final class RowColours {
  private static final int RED_BY_CR = 91881; // 1.402
  private static final int GREEN_BY_CB = 22554; // 0.34414
  private static final int GREEN_BY_CR = 46802; // 0.71414
  private static final int BLUE_BY_CB = 116130; // 1.772
  private static final int HALF = 1 << 15;

  private final Layout layout;
  private final int groups;
  private final ChromaRow cbRow;
  private final ChromaRow crRow;

  // Of every fourth column of all groups: few enough to stay near the processor.
  private final int[] luma;
  private final int[] cb;
  private final int[] cr;
  private final int[] red;
  private final int[] green;
  private final int[] blue;
  private final int[] brightest;
  private final int[] packed;
  private final int[] pixels;

  RowColours(Layout layout) {
    this.layout = layout;
    this.groups = Samples.groups(layout);
    cbRow = new ChromaRow(layout);
    crRow = new ChromaRow(layout);
    int length = Samples.RUNS * groups;
    luma = new int[length];
    cb = new int[length];
    cr = new int[length];
    red = new int[length];
    green = new int[length];
    blue = new int[length];
    brightest = new int[length];
    packed = new int[length];
    pixels = new int[RowOrder.GROUP * groups];
  }

  /**
   * @param ring has the rows of units of the row and its neighbours, each at its number modulo the
   *     ring's size
   * @return the row's packed pixels, until the next call
   */
  int[] run(Samples[] ring, int y) {
    int mcuHeight = 8 * layout.sampling().down;
    int[][][] planes = ring[y / mcuHeight % ring.length].planes;
    if (layout.sampling() == Layout.Sampling.HALF_WIDTH) {
      cbRow.take(planes[1][y % 8]);
      crRow.take(planes[2][y % 8]);
    } else if (layout.sampling() == Layout.Sampling.QUARTER) {
      int rows = (layout.height() + 1) / 2;
      int near = y / 2;
      int far = Math.max(0, Math.min(rows - 1, near + (y % 2 == 0 ? -1 : 1)));
      cbRow.take(plane(ring, 1, near), plane(ring, 1, far));
      crRow.take(plane(ring, 2, near), plane(ring, 2, far));
    }
    for (int column = 0; column < Samples.RUNS; column++) {
      unpack(planes[0][y % mcuHeight], 8 * column, luma);
      switch (layout.sampling()) {
        case GREY -> grey(luma, packed);
        case FULL -> {
          unpack(planes[1][y % 8], 8 * column, cb);
          unpack(planes[2][y % 8], 8 * column, cr);
          colours();
        }
        case HALF_WIDTH, QUARTER -> {
          cbRow.widen(column, cb);
          crRow.widen(column, cr);
          colours();
        }
      }
      for (int run = 0; run < Samples.RUNS; run++) {
        int at = (Samples.RUNS * run + column) * groups;
        System.arraycopy(packed, run * groups, pixels, at, groups);
      }
    }
    return pixels;
  }

  private static int[] plane(Samples[] ring, int component, int row) {
    return ring[row / 8 % ring.length].planes[component][row % 8];
  }

  private static void unpack(int[] samples, int shift, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = samples[i] >>> shift & 255;
    }
  }

  private void colours() {
    redOf(luma, cr, red);
    greenOf(luma, cb, cr, green);
    blueOf(luma, cb, blue);
    clamp(red);
    clamp(green);
    clamp(blue);
    brightestOf(red, green, blue, brightest);
    pack(brightest, red, green, blue, packed);
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
      into[i] = brightest[i] << 24 | green[i] << 16 | red[i] << 8 | blue[i];
    }
  }

  private static void grey(int[] luma, int[] into) {
    for (int i = 0; i < into.length; i++) {
      into[i] = luma[i] * 0x1010101;
    }
  }
}
