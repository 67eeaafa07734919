package org.scenespan.proof;

import java.util.Arrays;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;

/**
 * Means and ranges of small patches on an even grid over one picture, gathered as its rows pass by:
 * the same places in every picture of a bracket, whatever its size.
 */
final class FlatPatches implements PictureRows {
  /** Patches along each side. */
  static final int GRID = 96;

  /** A patch is flat enough for its mean to stand for it; small enough to find many. */
  private static final int SIDE = 5;

  static final int PATCHES = GRID * GRID;

  private PictureForm form;
  private final float[][] sums = new float[3][PATCHES];
  private final float[][] codes = new float[3][PATCHES];
  private final int[][] least = new int[3][PATCHES];
  private final int[][] most = new int[3][PATCHES];

  @Override
  public void begin(PictureForm begun) {
    if (begun.width() < 2 * GRID || begun.height() < 2 * GRID) {
      throw new IllegalArgumentException(
          "its size (" + begun.width() + " x " + begun.height() + ") is too small to calibrate on");
    }
    form = begun;
    for (int c = 0; c < 3; c++) {
      Arrays.fill(sums[c], 0);
      Arrays.fill(codes[c], 0);
      Arrays.fill(least[c], Integer.MAX_VALUE);
      Arrays.fill(most[c], 0);
    }
  }

  PictureForm form() {
    return form;
  }

  @Override
  public void row(int y, short[] rgb) {
    for (int line = 0; line < GRID; line++) {
      int top = start(line, form.height());
      if (y < top || y >= top + SIDE) {
        continue;
      }
      for (int column = 0; column < GRID; column++) {
        int left = start(column, form.width());
        for (int x = left; x < left + SIDE; x++) {
          take(line * GRID + column, rgb, 3 * x);
        }
      }
    }
  }

  private static int start(int cell, int size) {
    int centre = (int) ((cell + 0.5) * size / GRID);
    return Math.max(0, Math.min(size - SIDE, centre - SIDE / 2));
  }

  private void take(int patch, short[] rgb, int at) {
    for (int c = 0; c < 3; c++) {
      int code = rgb[at + c] & 0xffff;
      sums[c][patch] += form.response().light(code);
      least[c][patch] = Math.min(least[c][patch], code);
      most[c][patch] = Math.max(most[c][patch], code);
      codes[c][patch] += code;
    }
  }

  /** The mean code, rounded. */
  int code(int channel, int patch) {
    return Math.round(codes[channel][patch] / (SIDE * SIDE));
  }

  /** The mean light by the picture's own scale. */
  double light(int channel, int patch) {
    return sums[channel][patch] / (SIDE * SIDE);
  }

  int least(int channel, int patch) {
    return least[channel][patch];
  }

  int most(int channel, int patch) {
    return most[channel][patch];
  }
}
