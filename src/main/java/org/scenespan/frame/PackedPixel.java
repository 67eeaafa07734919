package org.scenespan.frame;

/**
 * A pixel of 8 bits in one int: from the top, the code of its brightest channel, of red, of green
 * and of blue. It is clipped where its brightest channel is 255, crushed where that is 0.
 */
public final class PackedPixel {
  private PackedPixel() {}

  public static int of(int red, int green, int blue) {
    return Math.max(red, Math.max(green, blue)) << 24 | red << 16 | green << 8 | blue;
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
