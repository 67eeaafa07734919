package org.scenespan.bench;

import java.util.Arrays;

/** Robust locally weighted regression of second degree over even steps (Cleveland 1979). */
final class LocalParabola {
  private static final int ROUNDS = 4;

  private LocalParabola() {}

  static double[] robust(double[] values, int count) {
    double[] trust = new double[values.length];
    Arrays.fill(trust, 1);
    double[] smooth = values;
    for (int round = 0; round < ROUNDS; round++) {
      smooth = smooth(values, trust, count);
      double[] off = new double[values.length];
      for (int i = 0; i < off.length; i++) {
        off[i] = Math.abs(values[i] - smooth[i]);
      }
      double[] sorted = off.clone();
      Arrays.sort(sorted);
      double reach = Math.max(1e-9, 6 * sorted[sorted.length / 2]);
      for (int i = 0; i < off.length; i++) {
        double u = Math.min(1, off[i] / reach);
        trust[i] = (1 - u * u) * (1 - u * u);
      }
    }
    return smooth;
  }

  private static double[] smooth(double[] values, double[] trust, int count) {
    double[] smooth = new double[values.length];
    for (int i = 0; i < values.length; i++) {
      int from = Math.max(0, Math.min(values.length - count, i - count / 2));
      double reach = Math.max(i - from, from + count - 1 - i) * 1.001;
      double[] s = new double[5];
      double[] t = new double[3];
      for (int j = from; j < from + count; j++) {
        double x = (j - i) / reach;
        double near = 1 - Math.abs(x * x * x);
        double weight = near * near * near * trust[j];
        double power = weight;
        for (int k = 0; k < 5; k++) {
          s[k] += power;
          if (k < 3) {
            t[k] += power * values[j];
          }
          power *= x;
        }
      }
      smooth[i] = solve(s, t, values[i]);
    }
    return smooth;
  }

  /** The constant of the parabola, by Cramer's rule. */
  private static double solve(double[] s, double[] t, double otherwise) {
    double whole = det(s[0], s[1], s[2], s[1], s[2], s[3], s[2], s[3], s[4]);
    double part = det(t[0], s[1], s[2], t[1], s[2], s[3], t[2], s[3], s[4]);
    return Math.abs(whole) > 1e-12 ? part / whole : otherwise;
  }

  private static double det(
      double a, double b, double c, double d, double e, double f, double g, double h, double i) {
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  }
}
