package org.scenespan.frame;

import java.util.List;

/**
 * The block of four sites that a Bayer sensor repeats, from left to right, the upper pair first.
 *
 * @param colours one letter of R, G, B to a site, such as {@code RGGB}
 * @param black the code of no light at each site
 * @param white the code of saturation
 * @param bits of a code, 8 to 16
 */
public record Mosaic(String colours, List<Double> black, double white, int bits) {
  public static final int SITES = 4;

  public Mosaic {
    black = List.copyOf(black);
    if (colours.length() != SITES
        || count(colours, 'R') != 1
        || count(colours, 'G') != 2
        || count(colours, 'B') != 1) {
      throw new IllegalArgumentException(
          "mosaic (" + colours + ") must have one red, two green and one blue site");
    }
    if (black.size() != SITES) {
      throw new IllegalArgumentException("black levels (" + black + ") must be one to a site");
    }
    if (!(bits >= 8 && bits <= 16)) {
      throw new IllegalArgumentException("bits (" + bits + ") must be 8 to 16");
    }
    if (!(white < 1 << bits)) {
      throw new IllegalArgumentException(
          "white level (" + white + ") must be a code of " + bits + " bits");
    }
    for (double level : black) {
      if (!(level >= 0 && level < white)) {
        throw new IllegalArgumentException(
            "black level (" + level + ") must be 0 or more and below the white level, " + white);
      }
    }
  }

  private static long count(String colours, char colour) {
    return colours.chars().filter(c -> c == colour).count();
  }

  /** Linear light of a site's codes. */
  public ToneResponse response(int site) {
    return ToneResponse.raw(bits, black.get(site), white);
  }
}
