package org.scenespan.frame;

import java.util.List;

/**
 * Counts the pixels of a picture of any depth row by row, in linear light, with nothing left out
 * and nothing averaged. Not for sharing between threads.
 *
 * <p>Light of 1 or more is clipped, light of 0 or less is none, and so is a NaN.
 */
public final class LightMeter {
  private final int width;
  private final int height;
  private final FrameSource source;
  private final ColourSpace space;
  private final LogHistogram.Builder red = new LogHistogram.Builder();
  private final LogHistogram.Builder green = new LogHistogram.Builder();
  private final LogHistogram.Builder blue = new LogHistogram.Builder();
  private final LogHistogram.Builder luminance = new LogHistogram.Builder();
  private final LogHistogram.Builder brightest = new LogHistogram.Builder();
  private final long[] clipped = new long[4];
  private final long[] crushed = new long[4];
  private final Texture texture;
  private final ClippedRuns runs;
  private int rows;

  /**
   * @param width pixels
   * @param height pixels
   * @param space whose channels the light is in
   */
  public LightMeter(int width, int height, FrameSource source, ColourSpace space) {
    if (!(width > 0 && height > 0)) {
      throw new IllegalArgumentException(
          "a picture's size (" + width + " x " + height + ") must be above 0");
    }
    this.width = width;
    this.height = height;
    this.source = source;
    this.space = space;
    this.texture = new Texture(width, height);
    this.runs = new ClippedRuns(height);
  }

  /**
   * Counts the next row.
   *
   * @param light linear light of each pixel relative to saturation
   * @param channels 3 for red, green and blue in turn, 1 for grey, whose three channels are the
   *     same
   * @param flags takes the {@link PixelFlags} of each pixel
   */
  public void row(double[] light, int channels, byte[] flags) {
    if (rows == height) {
      throw new IllegalStateException("more than " + height + " rows");
    }
    rows++;
    double[] row = texture.row();
    for (int x = 0; x < width; x++) {
      int i = x * channels;
      double r = bounded(light[i]);
      double g = channels == 1 ? r : bounded(light[i + 1]);
      double b = channels == 1 ? r : bounded(light[i + 2]);
      double y = channels == 1 ? r : space.luminance(r, g, b);
      row[x] = y;
      flags[x] = count(r, g, b, y);
    }
    runs.row(rows - 1, flags, width);
    texture.endRow();
  }

  private static double bounded(double light) {
    return light > 0 ? Math.min(light, 1) : 0;
  }

  private byte count(double r, double g, double b, double y) {
    double most = Math.max(r, Math.max(g, b));
    red.addToBin(LogHistogram.binOf(r), 1);
    green.addToBin(LogHistogram.binOf(g), 1);
    blue.addToBin(LogHistogram.binOf(b), 1);
    luminance.addToBin(LogHistogram.binOf(y), 1);
    brightest.addToBin(LogHistogram.binOf(most), 1);
    if (most >= 1) {
      tally(clipped, r >= 1, g >= 1, b >= 1, true);
    }
    boolean dark = r <= 0 || g <= 0 || b <= 0;
    if (dark) {
      tally(crushed, r <= 0, g <= 0, b <= 0, most <= 0);
    }
    return most >= 1 ? PixelFlags.CLIPPED : most <= 0 ? PixelFlags.CRUSHED : 0;
  }

  private static void tally(long[] counts, boolean r, boolean g, boolean b, boolean combined) {
    counts[0] += r ? 1 : 0;
    counts[1] += g ? 1 : 0;
    counts[2] += b ? 1 : 0;
    counts[3] += combined ? 1 : 0;
  }

  /**
   * @throws IllegalStateException if a row is missing
   */
  public FrameMeasure measure() {
    if (rows != height) {
      throw new IllegalStateException("only " + rows + " of " + height + " rows were counted");
    }
    return new FrameMeasure(
        width,
        height,
        source,
        (long) width * height,
        new PixelCounts(clipped[0], clipped[1], clipped[2], clipped[3]),
        new PixelCounts(crushed[0], crushed[1], crushed[2], crushed[3]),
        red.build(),
        green.build(),
        blue.build(),
        luminance.build(),
        brightest.build(),
        texture.sharpness(),
        ClippedRuns.areas(List.of(runs), width),
        texture.regions());
  }
}
