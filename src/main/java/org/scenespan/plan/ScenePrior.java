package org.scenespan.plan;

/**
 * How far a scene's ends usually stand from its meter reading, before anything is seen of it.
 *
 * <p>Measured on 47 real scenes of radiance: the bright end 3.4, 8.4 and 14.1 stops over the log
 * average at the 5th, 50th and 95th percentile, the dark end 2.6, 4.1 and 6.8 under it. Each end is
 * taken for a normal law of two halves (Fechner's), and the ends for independent.
 */
final class ScenePrior {
  /** Standard normal quantile of 95 %. */
  private static final double AT_95 = 1.645;

  /** With the sun in the frame the bright end is among the farthest of the usual ones. */
  private static final double SUN_FROM_RANK = 0.6;

  private final double[] highlights;
  private final double[] shadows;

  private ScenePrior(double[] highlights, double[] shadows) {
    this.highlights = highlights;
    this.shadows = shadows;
  }

  static ScenePrior of(Intent.Keep keep, boolean sunInFrame) {
    return new ScenePrior(
        keep == Intent.Keep.SHADOWS
            ? new double[] {0}
            : ranks(96, sunInFrame ? SUN_FROM_RANK : 0, 3.4, 8.4, 14.1),
        keep == Intent.Keep.HIGHLIGHTS ? new double[] {0} : ranks(48, 0, 2.6, 4.1, 6.8));
  }

  /** Stops of the bright end over the meter, equally likely. */
  double[] highlights() {
    return highlights;
  }

  /** Stops of the dark end under the meter, equally likely. */
  double[] shadows() {
    return shadows;
  }

  private static double[] ranks(int count, double from, double low, double middle, double high) {
    double[] values = new double[count];
    for (int i = 0; i < count; i++) {
      double rank = from + (1 - from) * (i + 0.5) / count;
      double z = normalQuantile(rank);
      values[i] = middle + z * (z < 0 ? middle - low : high - middle) / AT_95;
    }
    return values;
  }

  /**
   * Tukey's lambda approximation of the normal quantile, within 0.01 between the 1st and the 99th
   * percentile.
   */
  private static double normalQuantile(double rank) {
    return (Math.pow(rank, 0.135) - Math.pow(1 - rank, 0.135)) / 0.1975;
  }
}
