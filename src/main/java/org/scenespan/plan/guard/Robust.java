package org.scenespan.plan.guard;

import java.util.Arrays;

/** Statistics that a few wild values do not move. */
final class Robust {
  /** The median absolute deviation of a normal distribution, as a part of its standard one. */
  private static final double MAD_OF_NORMAL = 0.6745;

  private Robust() {}

  static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int half = sorted.length / 2;
    return sorted.length % 2 == 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
  }

  /** The standard deviation that the median absolute deviation tells of. */
  static double deviation(double[] values) {
    double middle = median(values);
    return median(Arrays.stream(values).map(value -> Math.abs(value - middle)).toArray())
        / MAD_OF_NORMAL;
  }

  /** The median slope over all pairs, per place in the list (Sen, JASA 63, 1968). */
  static double slope(double[] values) {
    double[] slopes = new double[values.length * (values.length - 1) / 2];
    int count = 0;
    for (int i = 0; i < values.length; i++) {
      for (int j = i + 1; j < values.length; j++) {
        slopes[count++] = (values[j] - values[i]) / (j - i);
      }
    }
    return median(slopes);
  }

  /** How much the order of the values is that of time: −1 to 1 (Kendall, Biometrika 30, 1938). */
  static double order(double[] values) {
    int sum = 0;
    for (int i = 0; i < values.length; i++) {
      for (int j = i + 1; j < values.length; j++) {
        sum += (int) Math.signum(values[j] - values[i]);
      }
    }
    return 2.0 * sum / (values.length * (values.length - 1.0));
  }
}
