package org.scenespan.frame;

/**
 * Exact numbers of pixels that have one property, per channel and combined.
 *
 * @param red pixels (of a raw frame: blocks of four sites) in which red has it
 * @param green likewise green
 * @param blue likewise blue
 * @param combined in which any channel has it (clipping), or all have it (crushing)
 */
public record PixelCounts(long red, long green, long blue, long combined) {
  public static final PixelCounts NONE = new PixelCounts(0, 0, 0, 0);

  public PixelCounts {
    if (!(red >= 0 && green >= 0 && blue >= 0 && combined >= 0)) {
      throw new IllegalArgumentException(
          "counts of pixels (" + red + ", " + green + ", " + blue + ", " + combined + ") below 0");
    }
  }

  /** Whether no count is above that of all pixels. */
  boolean isWithin(long pixels) {
    return red <= pixels && green <= pixels && blue <= pixels && combined <= pixels;
  }
}
