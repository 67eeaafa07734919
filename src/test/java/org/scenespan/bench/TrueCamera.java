package org.scenespan.bench;

import java.util.List;
import java.util.SplittableRandom;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.Mosaic;
import org.scenespan.frame.MosaicMeter;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;

/**
 * A sensor in memory: photon and read noise, clipping and fourteen bits of a mosaic, read by the
 * real meter. Noise is drawn from a table of normal numbers, which is quick.
 */
final class TrueCamera {
  private static final int BLACK = 512;
  private static final int WHITE = 16_383;
  private static final Mosaic MOSAIC =
      new Mosaic("RGGB", List.of(512.0, 512.0, 512.0, 512.0), WHITE, 14);
  private static final float[] NORMAL = new float[1 << 16];

  static {
    SplittableRandom random = new SplittableRandom(1);
    for (int i = 0; i < NORMAL.length; i++) {
      NORMAL[i] = (float) random.nextGaussian();
    }
  }

  private TrueCamera() {}

  /**
   * @param light stops by which the light differs from what the exposure asks for
   */
  static FrameMeasure expose(
      TrueScene scene,
      Ev average,
      NoiseModel noise,
      Exposure exposure,
      double light,
      SplittableRandom random) {
    double well = noise.saturation(exposure.iso());
    double perUnit =
        well * Math.pow(2, average.value() - MidGrey.saturation(exposure).value() + light);
    int width = scene.width();
    short[] upper = new short[2 * width];
    short[] lower = new short[2 * width];
    byte[] flags = new byte[width];
    MosaicMeter meter = new MosaicMeter(2 * width, 2 * scene.rgb().length, MOSAIC);
    double codes = (WHITE - BLACK) / well;
    double read = noise.readNoise() * noise.readNoise();
    int[] draw = {random.nextInt()};
    for (double[] row : scene.rgb()) {
      for (int x = 0; x < width; x++) {
        double green = row[3 * x + 1] * perUnit;
        upper[2 * x] = code(row[3 * x] * perUnit, read, well, codes, draw);
        upper[2 * x + 1] = code(green, read, well, codes, draw);
        lower[2 * x] = code(green, read, well, codes, draw);
        lower[2 * x + 1] = code(row[3 * x + 2] * perUnit, read, well, codes, draw);
      }
      meter.blockRow(upper, lower, flags);
    }
    return meter.measure();
  }

  private static short code(double mean, double read, double well, double codes, int[] draw) {
    if (mean > 2 * well) {
      return (short) WHITE;
    }
    // Numerical Recipes' linear congruence; its upper half is random enough.
    draw[0] = draw[0] * 1664525 + 1013904223;
    double electrons = mean + Math.sqrt(mean + read) * NORMAL[draw[0] >>> 16];
    double code = Math.rint(BLACK + electrons * codes);
    return (short) Math.max(0, Math.min(WHITE, code));
  }
}
