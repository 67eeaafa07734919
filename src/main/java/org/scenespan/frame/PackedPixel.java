package org.scenespan.frame;

/**
 * A pixel of 8 bits in one int: from the top, the code of its brightest channel, of green, of red
 * and of blue. It is clipped where its brightest channel is 255, crushed where that is 0.
 *
 * <p>Either half is a pair of codes that is looked up, or counted, at once. The brightest channel
 * is mostly green, so that the pairs of a picture are few and their places stay in the cache.
 */
public final class PackedPixel {
  /** Pairs of codes of two channels. */
  static final int PAIRS = 1 << 16;

  private static final int NEITHER = 1;

  private PackedPixel() {}

  public static int of(int red, int green, int blue) {
    return Math.max(red, Math.max(green, blue)) << 24 | green << 16 | red << 8 | blue;
  }

  /**
   * A pixel that stands for more than its codes tell, marked by that and not by them.
   *
   * @param flags {@link PixelFlags}
   */
  public static int of(int red, int green, int blue, byte flags) {
    int brightest = flags == PixelFlags.CLIPPED ? 255 : flags == PixelFlags.CRUSHED ? 0 : NEITHER;
    return brightest << 24 | of(red, green, blue) & 0xffffff;
  }

  /** The code of red. */
  public static int red(int pixel) {
    return pixel >>> 8 & 255;
  }

  /** The code of green. */
  public static int green(int pixel) {
    return pixel >>> 16 & 255;
  }

  /** The code of blue. */
  public static int blue(int pixel) {
    return pixel & 255;
  }

  public static boolean isClipped(int pixel) {
    return pixel >>> 24 == 255;
  }

  /** {@link PixelFlags} of a pixel. */
  public static byte flags(int pixel) {
    int brightest = pixel >>> 24;
    return brightest == 255 ? PixelFlags.CLIPPED : brightest == 0 ? PixelFlags.CRUSHED : 0;
  }
}
