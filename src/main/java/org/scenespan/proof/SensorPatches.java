package org.scenespan.proof;

import java.util.Arrays;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.Mosaic;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;

/**
 * Patches of one raw frame as the sensor gave them, each colour's sites apart: the same places in
 * every frame of the same size.
 */
final class SensorPatches implements PictureRows {
  /** Patches along each side, at most. */
  private static final int GRID = 16;

  /** Sites along a patch's side; of each colour filter half of them. */
  private static final int SIDE = 32;

  /** Sites of one filter in a patch. */
  static final int SITES = SIDE * SIDE / 4;

  /** From here on the light may be clipped in part. */
  private static final double UNCLIPPED = 0.98;

  /** Above this mean the noise of single sites may clip. */
  private static final double BRIGHTEST_MEAN = 0.85;

  private static final CodeScale SCALE = CodeScale.linear16();

  private PictureForm form;
  private int across;
  private int down;
  private short[] codes = new short[0];
  private double[] means;

  @Override
  public void begin(PictureForm begun) {
    form = begun;
    boolean mosaic = begun.mosaic().isPresent();
    across = mosaic ? Math.min(GRID, begun.width() / SIDE) : 0;
    down = mosaic ? Math.min(GRID, begun.height() / SIDE) : 0;
    codes = new short[across * down * Mosaic.SITES * SITES];
    means = null;
  }

  PictureForm form() {
    return form;
  }

  /** Patches times four colour sites; 0 if the frame has no mosaic. */
  int fields() {
    return across * down * Mosaic.SITES;
  }

  /** A part of the picture that a field lies in: 0 to 3. */
  int quarter(int field) {
    int patch = field / Mosaic.SITES;
    return (2 * (patch / across) / down << 1) + 2 * (patch % across) / across;
  }

  @Override
  public void row(int y, short[] rgb) {
    for (int line = 0; line < down; line++) {
      int within = y - start(line, down, form.height());
      if (within < 0 || within >= SIDE) {
        continue;
      }
      for (int column = 0; column < across; column++) {
        int left = start(column, across, form.width());
        for (int x = 0; x < SIDE; x++) {
          take(line * across + column, within, x, rgb, left + x);
        }
      }
    }
  }

  /** An even site, so that each patch begins with the same filter. */
  private static int start(int cell, int cells, int size) {
    int middle = (int) ((cell + 0.5) * size / cells);
    return Math.max(0, Math.min(size - SIDE, middle - SIDE / 2)) & ~1;
  }

  private void take(int patch, int y, int x, short[] rgb, int column) {
    int site = 2 * (y & 1) + (x & 1);
    int channel = "RGB".indexOf(form.mosaic().orElseThrow().colours().charAt(site));
    int at = (patch * Mosaic.SITES + site) * SITES + y / 2 * (SIDE / 2) + x / 2;
    codes[at] = rgb[3 * column + channel];
  }

  private float light(int field, int site) {
    return SCALE.light(codes[field * SITES + site] & 0xffff);
  }

  /** The mean light of a field relative to saturation; NaN where a site is clipped or cut. */
  double mean(int field) {
    if (means == null) {
      means = new double[fields()];
      Arrays.setAll(means, this::usableMean);
    }
    return means[field];
  }

  private double usableMean(int field) {
    Mosaic mosaic = form.mosaic().orElseThrow();
    double black = mosaic.black().get(field % Mosaic.SITES);
    // Code 0 of the file: noise below it is cut off, and the rest is no longer even-sided.
    double cut = -black / (mosaic.white() - black) + 1e-4;
    double sum = 0;
    for (int site = 0; site < SITES; site++) {
      float light = light(field, site);
      if (light >= UNCLIPPED || light <= cut) {
        return Double.NaN;
      }
      sum += light;
    }
    return sum / SITES <= BRIGHTEST_MEAN ? sum / SITES : Double.NaN;
  }

  /** The variance of the light within a field: noise, and whatever is to be seen there. */
  double spread(int field) {
    double mean = mean(field);
    double sum = 0;
    for (int site = 0; site < SITES; site++) {
      sum += Math.pow(light(field, site) - mean, 2);
    }
    return sum / (SITES - 1);
  }

  /** The variance of this frame less {@code ratio} times the other, over a field's sites. */
  double differenceVariance(SensorPatches other, double ratio, int field) {
    double mean = mean(field) - ratio * other.mean(field);
    double sum = 0;
    for (int site = 0; site < SITES; site++) {
      sum += Math.pow(light(field, site) - ratio * other.light(field, site) - mean, 2);
    }
    return sum / (SITES - 1);
  }

  /** The bits that the file's codes take. */
  int bits() {
    int white = (int) form.mosaic().orElseThrow().white();
    return Math.max(8, Math.min(16, Integer.SIZE - Integer.numberOfLeadingZeros(white)));
  }
}
