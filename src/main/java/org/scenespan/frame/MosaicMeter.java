package org.scenespan.frame;

/**
 * Counts the blocks of a raw frame, two rows of sites at a time, with nothing left out. Not for
 * sharing between threads.
 *
 * <p>A block of four sites counts as one pixel. Its green is the mean of both green sites, but
 * clipped as soon as one of them is, and crushed only when both are. Luminance takes the sensor's
 * own primaries for those of BT.709, which is near enough for a histogram in stops.
 */
public final class MosaicMeter {
  private final int columns;
  private final int rows;
  private final int width;
  private final int height;
  private final double[][] linear = new double[Mosaic.SITES][];
  private final int redSite;
  private final int blueSite;
  private final int greenSite;
  private final int otherGreenSite;
  private final LogHistogram.Builder red = new LogHistogram.Builder();
  private final LogHistogram.Builder green = new LogHistogram.Builder();
  private final LogHistogram.Builder blue = new LogHistogram.Builder();
  private final LogHistogram.Builder luminance = new LogHistogram.Builder();
  private final LogHistogram.Builder brightest = new LogHistogram.Builder();
  private final long[] clipped = new long[4];
  private final long[] crushed = new long[4];
  private final Texture texture;
  private final Pool pool;
  private final AreaTracer areas;
  private int counted;

  /**
   * @param width sites; a last odd column is left out
   * @param height sites; a last odd row is left out
   */
  public MosaicMeter(int width, int height, Mosaic mosaic) {
    if (!(width >= 2 && height >= 2)) {
      throw new IllegalArgumentException(
          "a raw frame's size (" + width + " x " + height + ") must be 2 or more");
    }
    this.width = width;
    this.height = height;
    this.columns = width / 2;
    this.rows = height / 2;
    this.texture = new Texture(columns);
    this.pool = new Pool(columns, rows);
    this.areas = new AreaTracer(columns);
    this.redSite = mosaic.colours().indexOf('R');
    this.blueSite = mosaic.colours().indexOf('B');
    this.greenSite = mosaic.colours().indexOf('G');
    this.otherGreenSite = mosaic.colours().lastIndexOf('G');
    for (int site = 0; site < Mosaic.SITES; site++) {
      ToneResponse response = mosaic.response(site);
      linear[site] = new double[response.codes()];
      for (int code = 0; code < response.codes(); code++) {
        linear[site][code] = response.linear(code);
      }
    }
  }

  /** Blocks from left to right. */
  public int columns() {
    return columns;
  }

  /** Blocks from top to bottom. */
  public int rows() {
    return rows;
  }

  /**
   * Counts the next row of blocks.
   *
   * @param upper codes of the upper row of sites, unsigned
   * @param lower codes of the lower row of sites, unsigned
   * @param flags takes the {@link PixelFlags} of each block
   */
  public void blockRow(short[] upper, short[] lower, byte[] flags) {
    if (counted == rows) {
      throw new IllegalStateException("more than " + rows + " rows of blocks");
    }
    counted++;
    double[] row = texture.row();
    double[] light = new double[Mosaic.SITES];
    for (int x = 0; x < columns; x++) {
      light[0] = linear[0][upper[2 * x] & 0xffff];
      light[1] = linear[1][upper[2 * x + 1] & 0xffff];
      light[2] = linear[2][lower[2 * x] & 0xffff];
      light[3] = linear[3][lower[2 * x + 1] & 0xffff];
      double r = light[redSite];
      double b = light[blueSite];
      double one = light[greenSite];
      double other = light[otherGreenSite];
      double g = (one + other) / 2;
      double y = Luminance.of(r, g, b);
      row[x] = y;
      flags[x] = count(r, g, Math.max(one, other), b, y);
    }
    pool.row(row);
    areas.row(flags);
    texture.endRow();
  }

  private byte count(double r, double g, double greenest, double b, double y) {
    boolean greenClips = greenest >= 1;
    double shownGreen = greenClips ? 1 : g;
    double most = Math.max(r, Math.max(shownGreen, b));
    red.addToBin(LogHistogram.binOf(r), 1);
    green.addToBin(LogHistogram.binOf(shownGreen), 1);
    blue.addToBin(LogHistogram.binOf(b), 1);
    luminance.addToBin(LogHistogram.binOf(y), 1);
    brightest.addToBin(LogHistogram.binOf(most), 1);
    tally(clipped, r >= 1, greenClips, b >= 1, most >= 1);
    tally(crushed, r <= 0, g <= 0, b <= 0, most <= 0);
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
    if (counted != rows) {
      throw new IllegalStateException("only " + counted + " of " + rows + " rows were counted");
    }
    return new FrameMeasure(
        width,
        height,
        FrameSource.RAW,
        (long) columns * rows,
        new PixelCounts(clipped[0], clipped[1], clipped[2], clipped[3]),
        new PixelCounts(crushed[0], crushed[1], crushed[2], crushed[3]),
        red.build(),
        green.build(),
        blue.build(),
        luminance.build(),
        brightest.build(),
        texture.sharpness(),
        pool.histogram(),
        areas.areas());
  }
}
