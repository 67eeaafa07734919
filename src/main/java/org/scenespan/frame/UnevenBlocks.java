package org.scenespan.frame;

/**
 * Counts blocks of four sites whose black levels differ or are no whole numbers: each block's light
 * is worked out by itself, from the codes of its sites by tables, or as it is given.
 */
final class UnevenBlocks {
  private static final int SATURATED = LogHistogram.SATURATED_BIN;

  private final Mosaic mosaic;
  private final int redSite;
  private final int blueSite;
  private final int greenSite;
  private final int otherGreenSite;

  /** The bin of each code of a site. */
  private final byte[] redBin;

  private final byte[] blueBin;

  /** What each code of a site adds to luminance; one green site stands for half of the green. */
  private final double[] redShare;

  private final double[] blueShare;
  private final double[] greenShare;
  private final double[] otherShare;

  private final int[] red = new int[SATURATED + 1];
  private final int[] green = new int[SATURATED + 1];
  private final int[] blue = new int[SATURATED + 1];
  private final int[] luminance = new int[SATURATED + 1];
  private final int[] brightest = new int[SATURATED + 1];
  private final int[] crushed = new int[4];

  private UnevenBlocks(Mosaic mosaic, boolean coded) {
    this.mosaic = mosaic;
    this.redSite = mosaic.colours().indexOf('R');
    this.blueSite = mosaic.colours().indexOf('B');
    this.greenSite = mosaic.colours().indexOf('G');
    this.otherGreenSite = mosaic.colours().lastIndexOf('G');
    if (!coded) {
      redBin = new byte[0];
      blueBin = redBin;
      redShare = new double[0];
      blueShare = redShare;
      greenShare = redShare;
      otherShare = redShare;
      return;
    }
    this.redBin = bins(redSite);
    this.blueBin = bins(blueSite);
    this.redShare = shares(redSite, Luminance.RED);
    this.blueShare = shares(blueSite, Luminance.BLUE);
    this.greenShare = shares(greenSite, Luminance.GREEN / 2);
    boolean alike = mosaic.black().get(greenSite).equals(mosaic.black().get(otherGreenSite));
    this.otherShare = alike ? greenShare : shares(otherGreenSite, Luminance.GREEN / 2);
  }

  /** For rows of codes and of light. */
  static UnevenBlocks ofCodes(Mosaic mosaic) {
    return new UnevenBlocks(mosaic, true);
  }

  /** For rows of light only, without the tables that codes need. */
  static UnevenBlocks ofLight(Mosaic mosaic) {
    return new UnevenBlocks(mosaic, false);
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

  /**
   * Counts a row of blocks.
   *
   * @param upper two sites of the upper row to a number: the left one in the low 16 bits
   * @param lower likewise of the lower row
   * @param light takes the luminance of each block relative to saturation
   * @param flags takes the {@link PixelFlags} of each block
   * @return whether any is flagged
   */
  boolean row(
      int[] upper,
      int upperAt,
      int[] lower,
      int lowerAt,
      int columns,
      double[] light,
      byte[] flags) {
    double[] ofRed = redShare;
    double[] ofBlue = blueShare;
    double[] ofGreen = greenShare;
    double[] ofOther = otherShare;
    int redShift = redSite * 16;
    int blueShift = blueSite * 16;
    int greenShift = greenSite * 16;
    int otherShift = otherGreenSite * 16;
    int white = (int) Math.ceil(mosaic.white());
    int any = 0;
    for (int x = 0; x < columns; x++) {
      long block = upper[upperAt + x] & 0xffffffffL | (long) lower[lowerAt + x] << 32;
      int redCode = (int) (block >>> redShift) & 0xffff;
      int blueCode = (int) (block >>> blueShift) & 0xffff;
      int oneCode = (int) (block >>> greenShift) & 0xffff;
      int otherCode = (int) (block >>> otherShift) & 0xffff;
      double r = ofRed[redCode];
      double b = ofBlue[blueCode];
      double g = ofGreen[oneCode] + ofOther[otherCode];
      double y = r + g + b;
      light[x] = y;
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
   * Counts a row of blocks by their light.
   *
   * @param upper linear light of the upper row of sites relative to saturation, 1 where clipped
   * @param lower likewise of the lower row
   * @param light as {@link #row}; likewise the flags
   * @return whether any is flagged
   */
  boolean lightRow(double[] upper, double[] lower, int columns, double[] light, byte[] flags) {
    double[] sites = new double[Mosaic.SITES];
    int any = 0;
    for (int x = 0; x < columns; x++) {
      sites[0] = upper[2 * x];
      sites[1] = upper[2 * x + 1];
      sites[2] = lower[2 * x];
      sites[3] = lower[2 * x + 1];
      double r = Math.max(0, Math.min(1, sites[redSite]));
      double b = Math.max(0, Math.min(1, sites[blueSite]));
      double one = Math.max(0, Math.min(1, sites[greenSite]));
      double other = Math.max(0, Math.min(1, sites[otherGreenSite]));
      double g = (one + other) / 2;
      double y = Luminance.of(r, g, b);
      light[x] = y;
      int greenBin = Math.max(one, other) >= 1 ? SATURATED : LogHistogram.binOf(g);
      flags[x] = count(r, g, b, y, LogHistogram.binOf(r), greenBin, LogHistogram.binOf(b));
      any |= flags[x];
    }
    return any != 0;
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
   * Adds what was counted.
   *
   * @param histograms of red, green, blue, luminance and the brightest channel
   * @param clipped of red, green, blue and any
   * @param crushedBlocks of red, green, blue and all
   */
  void addTo(LogHistogram.Builder[] histograms, long[] clipped, long[] crushedBlocks) {
    int[][] counts = {red, green, blue, luminance, brightest};
    for (int i = 0; i < histograms.length; i++) {
      for (int bin = 0; bin <= SATURATED; bin++) {
        histograms[i].addToBin(bin, counts[i][bin]);
      }
    }
    // A code of saturation has the bin of saturation for itself: the one below is 2 % darker.
    clipped[0] += red[SATURATED];
    clipped[1] += green[SATURATED];
    clipped[2] += blue[SATURATED];
    clipped[3] += brightest[SATURATED];
    for (int i = 0; i < crushed.length; i++) {
      crushedBlocks[i] += crushed[i];
    }
  }
}
