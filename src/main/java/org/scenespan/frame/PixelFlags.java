package org.scenespan.frame;

/**
 * What is wrong with one pixel, as bits, so that a mask can be drawn from every pixel of a frame.
 */
public final class PixelFlags {
  /** A channel is at saturation. */
  public static final byte CLIPPED = 1;

  /** Every channel is without light. */
  public static final byte CRUSHED = 2;

  private PixelFlags() {}
}
