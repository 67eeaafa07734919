package org.scenespan.folder;

import java.util.Arrays;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.Mosaic;

/**
 * Full colour from a mosaic, a row at a time: at each site the mean of the nearest sites of each
 * colour, at most four. A mean with a clipped site in it is clipped.
 */
final class MosaicColour {
  private static final int GREEN = 1;

  private final int[] channelOf = new int[Mosaic.SITES];
  private final int width;
  private float[] above;
  private float[] middle;
  private float[] below;
  private final float[] sums = new float[3];
  private final int[] counts = new int[3];

  MosaicColour(Mosaic mosaic, int width) {
    this.width = width;
    for (int site = 0; site < Mosaic.SITES; site++) {
      channelOf[site] = "RGB".indexOf(mosaic.colours().charAt(site));
    }
    above = new float[width + 2];
    middle = new float[width + 2];
    below = new float[width + 2];
  }

  /**
   * Takes the next row of light, which may be below 0; saturation is 1. Beyond an edge a mosaic is
   * mirrored about its last sites, which keeps every site's colour.
   */
  void next(float[] light) {
    float[] free = above;
    above = middle;
    middle = below;
    below = free;
    System.arraycopy(light, 0, below, 1, width);
    below[0] = below[2];
    below[width + 1] = below[width - 1];
  }

  /**
   * The colours of the row before the newest.
   *
   * @param y its number in the mosaic
   * @param rgb takes codes of {@link CodeScale#linear16}
   */
  void row(int y, short[] rgb) {
    int own = 2 * (y & 1);
    int other = 2 - own;
    for (int x = 0; x < width; x++) {
      int here = x & 1;
      Arrays.fill(sums, 0);
      Arrays.fill(counts, 0);
      take(middle, x, channelOf[own + 1 - here]);
      take(middle, x + 2, channelOf[own + 1 - here]);
      take(above, x + 1, channelOf[other + here]);
      take(below, x + 1, channelOf[other + here]);
      int channel = channelOf[own + here];
      if (channel != GREEN) {
        int corner = channelOf[other + 1 - here];
        take(above, x, corner);
        take(above, x + 2, corner);
        take(below, x, corner);
        take(below, x + 2, corner);
      }
      sums[channel] = middle[x + 1];
      counts[channel] = 1;
      for (int c = 0; c < 3; c++) {
        rgb[3 * x + c] = CodeScale.code16(sums[c] / counts[c]);
      }
    }
  }

  private void take(float[] row, int at, int channel) {
    sums[channel] += row[at] >= 1 ? Float.POSITIVE_INFINITY : row[at];
    counts[channel]++;
  }
}
