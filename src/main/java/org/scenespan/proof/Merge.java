package org.scenespan.proof;

import java.util.List;

/**
 * The maximum-likelihood radiance of a pixel from several linear frames: the mean of the frames'
 * estimates, each by the inverse of its variance (Hasinoff, Durand &amp; Freeman, CVPR 2010;
 * Robertson et al. 2003), so that the merged SNR² is the sum of the frames' SNR².
 *
 * <p>The variance follows from the expected signal, not from the noisy sample: a weight that knew
 * the sample's own noise would favour the low ones. So a first estimate counts electrons only (Σ S
 * / Σ electrons per unit, the best for photon noise alone), and two more go round with the
 * variances that it predicts (after Granados et al., "Optimal HDR Reconstruction with Linear
 * Digital Cameras", CVPR 2010).
 */
final class Merge {
  private static final int ROUNDS = 2;

  private final FrameLight[] frames;
  private final FrameLight.Tables[][] tables;
  private final int darkest;

  Merge(List<FrameLight> lights) {
    frames = lights.toArray(FrameLight[]::new);
    tables = new FrameLight.Tables[frames.length][3];
    int least = 0;
    for (int j = 0; j < frames.length; j++) {
      for (int channel = 0; channel < 3; channel++) {
        tables[j][channel] = frames[j].tables(channel);
      }
      if (frames[j].electronsPerUnit() < frames[least].electronsPerUnit()) {
        least = j;
      }
    }
    darkest = least;
  }

  int frames() {
    return frames.length;
  }

  FrameLight light(int frame) {
    return frames[frame];
  }

  FrameLight.Tables tables(int frame, int channel) {
    return tables[frame][channel];
  }

  /**
   * Merges a row.
   *
   * @param codes of each frame, three a pixel
   * @param at where the row begins in them
   * @param width pixels
   * @param radiance takes three values a pixel
   * @param information takes three values a pixel: 1 over the variance; 0 where every frame is
   *     clipped and the radiance is only a lower bound
   */
  void row(short[][] codes, int at, int width, float[] radiance, float[] information) {
    double[] electrons = new double[frames.length];
    double[] guard = new double[frames.length];
    double[] rounding = new double[frames.length];
    for (int i = 0; i < 3 * width; i++) {
      int channel = i % 3;
      double sum = 0;
      double perUnit = 0;
      for (int j = 0; j < frames.length; j++) {
        int code = codes[j][at + i] & 0xffff;
        FrameLight.Tables table = tables[j][channel];
        guard[j] = table.guard()[code];
        electrons[j] = table.electrons()[code];
        rounding[j] = table.rounding()[code];
        sum += guard[j] * electrons[j];
        perUnit += guard[j] * frames[j].electronsPerUnit();
      }
      if (perUnit == 0) {
        double most =
            Math.max(electrons[darkest], frames[darkest].saturation() * FrameLight.GUARD_TO);
        radiance[i] = (float) (most / frames[darkest].electronsPerUnit());
        information[i] = 0;
        continue;
      }
      double value = sum / perUnit;
      double weights = 0;
      for (int round = 0; round < ROUNDS; round++) {
        weights = 0;
        double weighted = 0;
        for (int j = 0; j < frames.length; j++) {
          double e = frames[j].electronsPerUnit();
          double variance = Math.max(0, value) * e + frames[j].floorVariance() + rounding[j];
          double w = guard[j] * e / variance;
          weights += w * e;
          weighted += w * electrons[j];
        }
        value = weighted / weights;
      }
      if (value * value * weights < 1) {
        value = brightest(electrons, guard);
      }
      radiance[i] = (float) Math.max(0, value);
      information[i] = (float) weights;
    }
  }

  /** Where nothing stands out of the noise: the estimate of the frame that got the most light. */
  private double brightest(double[] electrons, double[] guard) {
    int most = -1;
    for (int j = 0; j < frames.length; j++) {
      boolean more = most < 0 || frames[j].electronsPerUnit() > frames[most].electronsPerUnit();
      if (guard[j] > 0 && more) {
        most = j;
      }
    }
    return electrons[most] / frames[most].electronsPerUnit();
  }
}
