package org.scenespan.frame;

/**
 * Counts the pixels of an 8-bit picture row by row, with nothing left out and nothing averaged. Not
 * for sharing between threads.
 *
 * <p>The histograms of the channels and of the brightest channel follow from counts of code values
 * at no cost per pixel; only luminance is worked out pixel by pixel.
 */
public final class PixelMeter {
  private static final int CODES = 256;

  private final int width;
  private final int height;
  private final FrameSource source;
  private final ToneResponse response;
  private final long[] red = new long[CODES];
  private final long[] green = new long[CODES];
  private final long[] blue = new long[CODES];
  private final long[] brightest = new long[CODES];
  private final long[] luminance = new long[LogHistogram.SATURATED_BIN + 1];
  private final double[] linear = new double[CODES];
  private final double[] redPart = new double[CODES];
  private final double[] greenPart = new double[CODES];
  private final double[] bluePart = new double[CODES];
  private final byte[] flagOf = new byte[CODES];
  private final Texture texture;
  private final Pool pool;
  private final AreaTracer areas;
  private int rows;

  /**
   * @param width pixels
   * @param height pixels
   * @param response of 8-bit codes, the same for every channel, never decreasing
   */
  public PixelMeter(int width, int height, FrameSource source, ToneResponse response) {
    if (!(width > 0 && height > 0)) {
      throw new IllegalArgumentException(
          "a picture's size (" + width + " x " + height + ") must be above 0");
    }
    if (response.codes() != CODES) {
      throw new IllegalArgumentException("codes (" + response.codes() + ") must be " + CODES);
    }
    this.width = width;
    this.height = height;
    this.source = source;
    this.response = response;
    this.texture = new Texture(width);
    this.pool = new Pool(width, height);
    this.areas = new AreaTracer(width);
    for (int code = 0; code < CODES; code++) {
      linear[code] = response.linear(code);
      redPart[code] = Luminance.RED * linear[code];
      greenPart[code] = Luminance.GREEN * linear[code];
      bluePart[code] = Luminance.BLUE * linear[code];
      flagOf[code] = code == CODES - 1 ? PixelFlags.CLIPPED : code == 0 ? PixelFlags.CRUSHED : 0;
    }
  }

  /**
   * Counts the next row of a colour picture.
   *
   * @param rgb red, green and blue of each pixel, one byte each
   * @param flags takes the {@link PixelFlags} of each pixel
   */
  public void colourRow(byte[] rgb, byte[] flags) {
    beginRow();
    double[] row = texture.row();
    for (int x = 0, i = 0; x < width; x++, i += 3) {
      int r = rgb[i] & 0xff;
      int g = rgb[i + 1] & 0xff;
      int b = rgb[i + 2] & 0xff;
      int most = Math.max(r, Math.max(g, b));
      red[r]++;
      green[g]++;
      blue[b]++;
      brightest[most]++;
      double y = redPart[r] + greenPart[g] + bluePart[b];
      luminance[LogHistogram.binOf(y)]++;
      row[x] = y;
      flags[x] = flagOf[most];
    }
    pool.row(row);
    areas.row(flags);
    texture.endRow();
  }

  /**
   * Counts the next row of a grey picture, whose three channels are the same.
   *
   * @param grey one byte of each pixel
   * @param flags takes the {@link PixelFlags} of each pixel
   */
  public void greyRow(byte[] grey, byte[] flags) {
    beginRow();
    double[] row = texture.row();
    for (int x = 0; x < width; x++) {
      int code = grey[x] & 0xff;
      red[code]++;
      green[code]++;
      blue[code]++;
      brightest[code]++;
      luminance[LogHistogram.binOf(linear[code])]++;
      row[x] = linear[code];
      flags[x] = flagOf[code];
    }
    pool.row(row);
    areas.row(flags);
    texture.endRow();
  }

  private void beginRow() {
    if (rows == height) {
      throw new IllegalStateException("more than " + height + " rows");
    }
    rows++;
  }

  /**
   * @throws IllegalStateException if a row is missing
   */
  public FrameMeasure measure() {
    if (rows != height) {
      throw new IllegalStateException("only " + rows + " of " + height + " rows were counted");
    }
    int top = CODES - 1;
    return new FrameMeasure(
        width,
        height,
        source,
        (long) width * height,
        new PixelCounts(red[top], green[top], blue[top], brightest[top]),
        new PixelCounts(red[0], green[0], blue[0], brightest[0]),
        LogHistogram.ofCodes(red, response::linear),
        LogHistogram.ofCodes(green, response::linear),
        LogHistogram.ofCodes(blue, response::linear),
        LogHistogram.ofCounts(luminance),
        LogHistogram.ofCodes(brightest, response::linear),
        texture.sharpness(),
        pool.histogram(),
        areas.areas());
  }
}
