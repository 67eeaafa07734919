package org.scenespan.frame;

/** Gives a meter rows of bytes, from the top. */
public final class ByteRows {
  private final PixelTally tally;
  private final RowOrder order;
  private int rows;

  public ByteRows(PixelMeter meter, int width) {
    this.tally = meter.tally();
    this.order = new RowOrder(width);
  }

  /**
   * @param rgb red, green and blue of each pixel in turn
   * @return the {@link PixelFlags} of each pixel
   */
  public byte[] colour(byte[] rgb) {
    return row(rgb, 3);
  }

  /**
   * @param grey one byte of each pixel, which is that of all its channels
   * @return the {@link PixelFlags} of each pixel
   */
  public byte[] grey(byte[] grey) {
    return row(grey, 1);
  }

  /** A row packed. */
  public static int[] packed(byte[] samples, int channels) {
    RowOrder order = new RowOrder(samples.length / channels);
    int[] pixels = new int[order.length()];
    for (int x = 0; x < order.width(); x++) {
      int red = samples[x * channels] & 0xff;
      int green = samples[x * channels + (channels == 3 ? 1 : 0)] & 0xff;
      int blue = samples[x * channels + (channels == 3 ? 2 : 0)] & 0xff;
      pixels[order.placeOf(x)] = PackedPixel.of(red, green, blue);
    }
    return pixels;
  }

  private byte[] row(byte[] samples, int channels) {
    int[] pixels = packed(samples, channels);
    tally.row(rows++, pixels);
    byte[] flags = new byte[order.width()];
    for (int x = 0; x < flags.length; x++) {
      flags[x] = PackedPixel.flags(pixels[order.placeOf(x)]);
    }
    return flags;
  }
}
