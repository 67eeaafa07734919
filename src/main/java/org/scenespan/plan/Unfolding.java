package org.scenespan.plan;

import org.scenespan.frame.LogHistogram;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Iso;

/**
 * Takes the noise out of a raw frame's luminance histogram, so that its dark tail is neither lost
 * nor exaggerated: expectation and maximisation (Richardson, J. Opt. Soc. Am. 62, 1972; Lucy,
 * Astron. J. 79, 1974) over the bins, with the known noise of each level as the kernel.
 */
final class Unfolding {
  /** Enough to find a tail at signal-to-noise 1; many more would sharpen noise into lines. */
  private static final int ROUNDS = 30;

  /** Above this signal-to-noise a pixel stays in its bin (a sixth of a stop is 12 %). */
  private static final double SHARP_SNR = 40;

  /**
   * Noise of a grey block's luminance over that of one site: √(r² + g²/2 + b²) with the weights of
   * BT.709, since a block has two green sites.
   */
  private static final double LUMINANCE_NOISE = 0.553;

  /** Counts are kept as whole numbers; a pixel is shared out in thousandths. */
  private static final int PARTS = 1000;

  /** Beyond so many sigma the normal law's tail is 0 in a double's digits, on either side. */
  private static final double NORMAL_ENDS = 39;

  private Unfolding() {}

  static LogHistogram of(LogHistogram seen, NoiseModel noise, Iso iso) {
    int noisy = noisyBins(noise, iso);
    if (noisy <= 1) {
      return seen;
    }
    // Half a stop more, into which the noisy ones reach.
    int bins = Math.min(noisy + LogHistogram.BINS_PER_STOP / 2, LogHistogram.SATURATED_BIN);
    Kernel kernel = kernel(bins, noise, iso);
    double[] counts = new double[bins];
    double[] guess = new double[bins];
    for (int bin = 0; bin < bins; bin++) {
      counts[bin] = seen.count(bin);
      guess[bin] = counts[bin] + 0.01;
    }
    for (int round = 0; round < ROUNDS; round++) {
      guess = improved(guess, counts, kernel);
    }
    long[] result = new long[LogHistogram.SATURATED_BIN + 1];
    for (int bin = 0; bin < result.length; bin++) {
      result[bin] = bin < bins ? Math.round(guess[bin] * PARTS) : seen.count(bin) * (long) PARTS;
    }
    return LogHistogram.ofCounts(result);
  }

  private static int noisyBins(NoiseModel noise, Iso iso) {
    double level = noise.floorStops(SHARP_SNR, iso).value();
    return (int) Math.ceil((level - LogHistogram.FROM_STOPS) * LogHistogram.BINS_PER_STOP);
  }

  /** Each sum is over one index, in its order; the inner loop is over the other, along a row. */
  private static double[] improved(double[] guess, double[] counts, Kernel kernel) {
    int bins = guess.length;
    double[] expected = new double[bins];
    for (int level = 0; level < bins; level++) {
      double[] row = kernel.byLevel[level];
      double share = guess[level];
      for (int observed = 0; observed < bins; observed++) {
        expected[observed] += row[observed] * share;
      }
    }
    double[] sum = new double[bins];
    for (int observed = 0; observed < bins; observed++) {
      if (counts[observed] > 0) {
        double[] row = kernel.byObserved[observed];
        double ratio = counts[observed] / Math.max(expected[observed], 1e-12);
        for (int level = 0; level < bins; level++) {
          sum[level] += row[level] * ratio;
        }
      }
    }
    for (int level = 0; level < bins; level++) {
      sum[level] *= guess[level];
    }
    return sum;
  }

  /**
   * The chances that a pixel of a level is seen in a bin.
   *
   * @param byLevel the level is the first index, the bin the second
   * @param byObserved the other way about
   */
  private record Kernel(double[][] byLevel, double[][] byObserved) {}

  private static Kernel kernel(int bins, NoiseModel noise, Iso iso) {
    double saturation = noise.saturation(iso);
    double floor = noise.floor(iso);
    double[] edges = new double[bins];
    for (int bin = 0; bin < bins; bin++) {
      edges[bin] = saturation * Math.pow(2, LogHistogram.lowerEdge(bin + 1).value());
    }
    Kernel kernel = new Kernel(new double[bins][bins], new double[bins][bins]);
    for (int level = 0; level < bins; level++) {
      double middle = LogHistogram.lowerEdge(level).value() + 0.5 / LogHistogram.BINS_PER_STOP;
      double electrons = saturation * Math.pow(2, middle);
      double sigma = LUMINANCE_NOISE * Math.sqrt(electrons + floor * floor);
      double below = 0;
      for (int bin = 0; bin < bins && below < 1; bin++) {
        // What is carried beyond the last bin is put into it: nothing is lost.
        double upTo = bin == bins - 1 ? 1 : normal((edges[bin] - electrons) / sigma);
        kernel.byLevel[level][bin] = upTo - below;
        kernel.byObserved[bin][level] = upTo - below;
        below = upTo;
      }
    }
    return kernel;
  }

  /** The normal distribution function (Abramowitz &amp; Stegun 26.2.17, within 7.5e-8). */
  private static double normal(double z) {
    if (Math.abs(z) > NORMAL_ENDS) {
      return z < 0 ? 0 : 1;
    }
    double t = 1 / (1 + 0.2316419 * Math.abs(z));
    double poly =
        t
            * (0.319381530
                + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
    double tail = Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI) * poly;
    return z < 0 ? tail : 1 - tail;
  }
}
