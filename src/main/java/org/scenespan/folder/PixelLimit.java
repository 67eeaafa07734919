package org.scenespan.folder;

/** The biggest picture that is read; checked before memory is taken for it. */
final class PixelLimit {
  /** Pixels: twice what the biggest sensors of today have. */
  static final long MAX_PIXELS = 200_000_000L;

  private PixelLimit() {}

  static void check(long width, long height) throws UnreadableFrame {
    if (!(width > 0 && height > 0)) {
      throw new UnreadableFrame("its size (" + width + " x " + height + ") must be above 0");
    }
    if (!(width <= MAX_PIXELS && height <= MAX_PIXELS / width)) {
      throw new UnreadableFrame(
          "its size ("
              + width
              + " x "
              + height
              + ") is above "
              + MAX_PIXELS / 1_000_000
              + " megapixels");
    }
  }
}
