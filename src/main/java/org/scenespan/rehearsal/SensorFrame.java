package org.scenespan.rehearsal;

/**
 * The codes of one frame; white means clipped and nothing else does. The array is shared, not
 * copied: whoever holds it leaves it alone.
 *
 * @param codes red, green and blue of each pixel, rows from the top; unsigned
 * @param black the code of no light
 * @param white the code of saturation
 */
record SensorFrame(int width, int height, short[] codes, int black, int white) {
  static final int RED = 0;
  static final int GREEN = 1;
  static final int BLUE = 2;

  int code(int x, int y, int channel) {
    return codes[3 * (y * width + x) + channel] & 0xffff;
  }

  /** The channel that a filter mosaic of red, green / green, blue lets through at a site. */
  static int mosaicChannel(int x, int y) {
    return (y & 1) + (x & 1);
  }
}
