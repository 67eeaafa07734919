package org.scenespan.rehearsal;

import java.util.random.RandomGenerator;

/**
 * Draws counts of photons: exact for small means, the normal law for those at which its skew (1/√λ,
 * below 0.07) cannot be told from the read noise.
 */
final class Photons {
  /** Above this mean the normal law stands in, electrons. */
  private static final double NORMAL_FROM = 200;

  /** Below this mean multiplying uniform numbers is quicker than rejecting. */
  private static final double MULTIPLY_BELOW = 10;

  /** ln k! for every count that an exact draw can ask for. */
  private static final double[] LOG_FACTORIAL = new double[1024];

  static {
    for (int k = 2; k < LOG_FACTORIAL.length; k++) {
      LOG_FACTORIAL[k] = LOG_FACTORIAL[k - 1] + Math.log(k);
    }
  }

  private Photons() {}

  /**
   * Photons and the noise of reading them together, electrons; may fall below 0.
   *
   * @param mean of the photons, 0 or more
   * @param readNoise standard deviation, electrons
   */
  static double withReadNoise(double mean, double readNoise, RandomGenerator random) {
    if (mean >= NORMAL_FROM) {
      // The sum of two normal laws is one.
      return mean + Math.sqrt(mean + readNoise * readNoise) * random.nextGaussian();
    }
    return count(mean, random) + readNoise * random.nextGaussian();
  }

  /**
   * A count by Poisson's law.
   *
   * @param mean 0 to 200
   */
  static int count(double mean, RandomGenerator random) {
    return mean < MULTIPLY_BELOW ? multiplied(mean, random) : rejected(mean, random);
  }

  /** Knuth, The Art of Computer Programming, vol. 2, 3.4.1: uniforms until e^−λ is passed. */
  private static int multiplied(double mean, RandomGenerator random) {
    double limit = Math.exp(-mean);
    int count = 0;
    for (double product = random.nextDouble(); product > limit; product *= random.nextDouble()) {
      count++;
    }
    return count;
  }

  /**
   * Transformed rejection with squeeze (W. Hörmann, "The transformed rejection method for
   * generating Poisson random variables", Insurance: Mathematics and Economics 12, 1993, algorithm
   * PTRS).
   */
  private static int rejected(double mean, RandomGenerator random) {
    double b = 0.931 + 2.53 * Math.sqrt(mean);
    double a = -0.059 + 0.02483 * b;
    double inverseAlpha = 1.1239 + 1.1328 / (b - 3.4);
    double squeeze = 0.9277 - 3.6224 / (b - 2);
    double logMean = Math.log(mean);
    while (true) {
      double u = random.nextDouble() - 0.5;
      double v = random.nextDouble();
      double us = 0.5 - Math.abs(u);
      int k = (int) Math.floor((2 * a / us + b) * u + mean + 0.43);
      if (us >= 0.07 && v <= squeeze) {
        return k;
      }
      if (k < 0 || k >= LOG_FACTORIAL.length || us < 0.013 && v > us) {
        continue;
      }
      double accept = Math.log(v * inverseAlpha / (a / (us * us) + b));
      if (accept <= k * logMean - mean - LOG_FACTORIAL[k]) {
        return k;
      }
    }
  }
}
