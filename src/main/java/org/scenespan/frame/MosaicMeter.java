package org.scenespan.frame;

import java.util.List;
import java.util.Optional;

/**
 * Counts the blocks of a raw frame, two rows of sites at a time, with nothing left out. Not for
 * sharing between threads; a frame may be cut into parts that are counted apart and put together.
 *
 * <p>A block of four sites counts as one pixel. Its green is the mean of both green sites, but
 * clipped as soon as one of them is, and crushed only when both are. Luminance takes the sensor's
 * own primaries for those of BT.709, which is near enough for a histogram in stops.
 */
public final class MosaicMeter {
  private static final int SATURATED = LogHistogram.SATURATED_BIN;

  private final int columns;
  private final int rows;
  private final int width;
  private final int height;
  private final Mosaic mosaic;
  private final int redSite;
  private final int blueSite;
  private final int greenSite;
  private final int otherGreenSite;
  private final byte[] redBin;
  private final byte[] blueBin;

  /** What each code of a site adds to luminance; one green site stands for half of the green. */
  private final double[][] share = new double[Mosaic.SITES][];

  private final int[] red = new int[SATURATED + 1];
  private final int[] green = new int[SATURATED + 1];
  private final int[] blue = new int[SATURATED + 1];
  private final int[] luminance = new int[SATURATED + 1];
  private final int[] brightest = new int[SATURATED + 1];
  private final int[] crushed = new int[4];
  private final Texture texture;
  private final ClippedRuns runs;

  /** Nothing where the sites have black levels of their own or one that is no whole number. */
  private final Optional<EvenBlocks> even;

  private int counted;

  /**
   * @param width sites; a last odd column is left out
   * @param height sites; a last odd row is left out
   */
  public MosaicMeter(int width, int height, Mosaic mosaic) {
    this(width, height, mosaic, 0, height);
  }

  /**
   * For a part of a frame's rows.
   *
   * @param width sites; a last odd column is left out
   * @param height sites of the part; a last odd row is left out
   * @param top even row of the frame in which the part begins
   * @param of sites of the frame from top to bottom
   */
  public MosaicMeter(int width, int height, Mosaic mosaic, int top, int of) {
    if (!(width >= 2 && height >= 2)) {
      throw new IllegalArgumentException(
          "a raw frame's size (" + width + " x " + height + ") must be 2 or more");
    }
    this.width = width;
    this.height = height;
    this.mosaic = mosaic;
    this.columns = width / 2;
    this.rows = height / 2;
    this.texture = new Texture(columns, of / 2, top / 2);
    this.runs = new ClippedRuns(rows);
    this.redSite = mosaic.colours().indexOf('R');
    this.blueSite = mosaic.colours().indexOf('B');
    this.greenSite = mosaic.colours().indexOf('G');
    this.otherGreenSite = mosaic.colours().lastIndexOf('G');
    this.even = EvenBlocks.fits(mosaic) ? Optional.of(EvenBlocks.of(mosaic)) : Optional.empty();
    if (even.isPresent()) {
      redBin = new byte[0];
      blueBin = new byte[0];
      return;
    }
    this.redBin = bins(redSite);
    this.blueBin = bins(blueSite);
    share[redSite] = shares(redSite, Luminance.RED);
    share[blueSite] = shares(blueSite, Luminance.BLUE);
    share[greenSite] = shares(greenSite, Luminance.GREEN / 2);
    boolean alike = mosaic.black().get(greenSite).equals(mosaic.black().get(otherGreenSite));
    share[otherGreenSite] = alike ? share[greenSite] : shares(otherGreenSite, Luminance.GREEN / 2);
  }

  private double[] shares(int site, double weight) {
    double black = mosaic.black().get(site);
    double scale = 1 / (mosaic.white() - black);
    double[] shares = new double[1 << mosaic.bits()];
    for (int code = 0; code < shares.length; code++) {
      shares[code] = weight * light(code, black, scale, mosaic.white());
    }
    return shares;
  }

  /** The bin of each code of a site. */
  private byte[] bins(int site) {
    double black = mosaic.black().get(site);
    double scale = 1 / (mosaic.white() - black);
    byte[] bins = new byte[1 << mosaic.bits()];
    for (int code = 0; code < bins.length; code++) {
      bins[code] = (byte) LogHistogram.binOf(light(code, black, scale, mosaic.white()));
    }
    return bins;
  }

  private static double light(int code, double black, double scale, double white) {
    return code >= white ? 1 : Math.max(0, (code - black) * scale);
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
    pairRow(pairs(upper), 0, pairs(lower), 0, flags);
  }

  private int[] pairs(short[] codes) {
    int[] pairs = new int[columns];
    for (int x = 0; x < columns; x++) {
      pairs[x] = codes[2 * x] & 0xffff | codes[2 * x + 1] << 16;
    }
    return pairs;
  }

  /**
   * Counts the next row of blocks.
   *
   * @param upper two sites of the upper row to a number: the left one in the low 16 bits
   * @param lower likewise of the lower row
   * @param flags takes the {@link PixelFlags} of each block
   * @return whether any block is flagged
   */
  public boolean pairRow(int[] upper, int upperAt, int[] lower, int lowerAt, byte[] flags) {
    begin();
    boolean any;
    if (even.isPresent()) {
      any = even.get().row(upper, upperAt, lower, lowerAt, columns, texture.row(), flags);
    } else {
      any = unevenRow(upper, upperAt, lower, lowerAt, flags);
    }
    end(any, flags);
    return any;
  }

  private void end(boolean any, byte[] flags) {
    if (any) {
      runs.row(counted - 1, flags, columns);
    }
    texture.endRow();
  }

  private boolean unevenRow(int[] upper, int upperAt, int[] lower, int lowerAt, byte[] flags) {
    double[] redShare = share[redSite];
    double[] blueShare = share[blueSite];
    double[] greenShare = share[greenSite];
    double[] otherShare = share[otherGreenSite];
    int redShift = redSite * 16;
    int blueShift = blueSite * 16;
    int greenShift = greenSite * 16;
    int otherShift = otherGreenSite * 16;
    int white = (int) Math.ceil(mosaic.white());
    double[] row = texture.row();
    int any = 0;
    for (int x = 0; x < columns; x++) {
      long block = upper[upperAt + x] & 0xffffffffL | (long) lower[lowerAt + x] << 32;
      int redCode = (int) (block >>> redShift) & 0xffff;
      int blueCode = (int) (block >>> blueShift) & 0xffff;
      int oneCode = (int) (block >>> greenShift) & 0xffff;
      int otherCode = (int) (block >>> otherShift) & 0xffff;
      double r = redShare[redCode];
      double b = blueShare[blueCode];
      double g = greenShare[oneCode] + otherShare[otherCode];
      double y = r + g + b;
      row[x] = y;
      int greenBin =
          Math.max(oneCode, otherCode) >= white
              ? SATURATED
              : LogHistogram.binOf(g * (1 / Luminance.GREEN));
      flags[x] = count(r, g, b, y, redBin[redCode], greenBin, blueBin[blueCode]);
      any |= flags[x];
    }
    return any != 0;
  }

  /**
   * Counts the next row of blocks of a sensor whose black level is not the same all over.
   *
   * @param upper linear light of the upper row of sites relative to saturation, 1 where clipped
   * @param lower likewise of the lower row
   * @param flags takes the {@link PixelFlags} of each block
   * @return whether any block is flagged
   */
  public boolean lightRow(double[] upper, double[] lower, byte[] flags) {
    begin();
    double[] row = texture.row();
    double[] light = new double[Mosaic.SITES];
    int any = 0;
    for (int x = 0; x < columns; x++) {
      light[0] = upper[2 * x];
      light[1] = upper[2 * x + 1];
      light[2] = lower[2 * x];
      light[3] = lower[2 * x + 1];
      double r = Math.max(0, Math.min(1, light[redSite]));
      double b = Math.max(0, Math.min(1, light[blueSite]));
      double one = Math.max(0, Math.min(1, light[greenSite]));
      double other = Math.max(0, Math.min(1, light[otherGreenSite]));
      double g = (one + other) / 2;
      double y = Luminance.of(r, g, b);
      row[x] = y;
      int greenBin = Math.max(one, other) >= 1 ? SATURATED : LogHistogram.binOf(g);
      flags[x] = count(r, g, b, y, LogHistogram.binOf(r), greenBin, LogHistogram.binOf(b));
      any |= flags[x];
    }
    end(any != 0, flags);
    return any != 0;
  }

  private void begin() {
    if (counted == rows) {
      throw new IllegalStateException("more than " + rows + " rows of blocks");
    }
    counted++;
  }

  /**
   * Bins are in the order of light, so that the brightest channel's bin is the highest one.
   *
   * @param r light of red in any measure, 0 for none; likewise the others
   */
  private byte count(
      double r, double g, double b, double y, int redBin, int greenBin, int blueBin) {
    int most = Math.max(redBin, Math.max(greenBin, blueBin));
    red[redBin]++;
    green[greenBin]++;
    blue[blueBin]++;
    luminance[LogHistogram.binOf(y)]++;
    brightest[most]++;
    // What is without light is in the first bin: few blocks need the closer look.
    if (redBin == 0 | greenBin == 0 | blueBin == 0) {
      crushed[0] += r <= 0 ? 1 : 0;
      crushed[1] += g <= 0 ? 1 : 0;
      crushed[2] += b <= 0 ? 1 : 0;
      if (r <= 0 && g <= 0 && b <= 0) {
        crushed[3]++;
        return PixelFlags.CRUSHED;
      }
    }
    return most == SATURATED ? PixelFlags.CLIPPED : 0;
  }

  /**
   * @throws IllegalStateException if a row is missing
   */
  public FrameMeasure measure() {
    return measure(List.of(this));
  }

  /**
   * What the parts of one frame tell together.
   *
   * @param parts from the top to the bottom, of one width; all but the last of an even height
   * @throws IllegalStateException if a row is missing
   */
  public static FrameMeasure measure(List<MosaicMeter> parts) {
    MosaicMeter first = parts.get(0);
    LogHistogram.Builder[] channels = new LogHistogram.Builder[5];
    for (int i = 0; i < channels.length; i++) {
      channels[i] = new LogHistogram.Builder();
    }
    long[] clipped = new long[4];
    long[] crushed = new long[4];
    int height = parts.stream().mapToInt(part -> part.height).sum();
    Texture texture = new Texture(first.columns, height / 2);
    long blocks = 0;
    for (MosaicMeter part : parts) {
      if (part.counted != part.rows) {
        throw new IllegalStateException(
            "only " + part.counted + " of " + part.rows + " rows were counted");
      }
      int[][] counts = {part.red, part.green, part.blue, part.luminance, part.brightest};
      for (int i = 0; i < channels.length; i++) {
        for (int bin = 0; bin <= SATURATED; bin++) {
          channels[i].addToBin(bin, counts[i][bin]);
        }
      }
      // A code of saturation has the bin of saturation for itself: the one below is 2 % darker.
      clipped[0] += part.red[SATURATED];
      clipped[1] += part.green[SATURATED];
      clipped[2] += part.blue[SATURATED];
      clipped[3] += part.brightest[SATURATED];
      for (int i = 0; i < crushed.length; i++) {
        crushed[i] += part.crushed[i];
      }
      part.even.ifPresent(one -> one.addTo(channels, clipped, crushed));
      texture.append(part.texture);
      blocks += (long) part.columns * part.rows;
    }
    return new FrameMeasure(
        first.width,
        height,
        FrameSource.RAW,
        blocks,
        new PixelCounts(clipped[0], clipped[1], clipped[2], clipped[3]),
        new PixelCounts(crushed[0], crushed[1], crushed[2], crushed[3]),
        channels[0].build(),
        channels[1].build(),
        channels[2].build(),
        channels[3].build(),
        channels[4].build(),
        texture.sharpness(),
        ClippedRuns.areas(parts.stream().map(part -> part.runs).toList(), first.columns),
        texture.regions());
  }
}
