package org.scenespan.frame;

import java.util.Arrays;

/**
 * Recovers a camera's response from pictures of one still scene at several exposures, after Debevec
 * &amp; Malik, "Recovering High Dynamic Range Radiance Maps from Photographs" (SIGGRAPH 1997),
 * equations 3 and 4: the log response g of each code and the log irradiance of each sample are
 * those that minimise Σ w(Z)² (g(Z) − ln E − ln Δt)² + λ² Σ w(z)² g″(z)².
 *
 * <p>Departures: the irradiances are eliminated before solving (each is a weighted mean once g is
 * known), so that 256 equations remain however many samples there are; and g is made never to
 * decrease, by pooling neighbours (isotonic regression), since a response that decreases cannot be
 * used.
 */
public final class ResponseRecovery {
  public static final int CODES = 256;

  /** Codes at and beside which no sample counts: at the highest the light is unknown. */
  private static final int CLIPPED = CODES - 1;

  /** Keeps the equations solvable where no sample has a code; far below any weight. */
  private static final double RIDGE = 1e-9;

  private final double lambda;

  /**
   * @param lambda smoothness λ, above 0; the paper's example uses tens, depending on the number of
   *     samples
   */
  public ResponseRecovery(double lambda) {
    if (!(lambda > 0 && lambda <= 1e6)) {
      throw new IllegalArgumentException("smoothness (" + lambda + ") must be above 0");
    }
    this.lambda = lambda;
  }

  /**
   * One channel's response and how good it is.
   *
   * @param light of each code relative to the highest, never decreasing
   * @param residualStops weighted root mean square of the samples' deviations from the curve, stops
   * @param samples how many there were
   * @param lowestCode the lowest that enough samples have
   * @param highestCode the highest that enough samples have
   */
  public record Curve(
      double[] light, double residualStops, int samples, int lowestCode, int highestCode) {}

  /** The hat weight of a code (equation 4): highest in the middle, 0 at both ends. */
  public static double weight(int code) {
    return Math.min(code, CODES - 1 - code);
  }

  /**
   * @param codes of each sample in each picture, 0 to 255
   * @param stops of each picture: how much more light it got than some picture, log2
   */
  public Curve recover(int[][] codes, double[] stops) {
    if (codes.length == 0 || stops.length < 2) {
      throw new IllegalArgumentException(
          "a response needs two pictures and a sample, not " + stops.length + ", " + codes.length);
    }
    double[] exposure = Arrays.stream(stops).map(s -> s * Math.log(2)).toArray();
    double[][] matrix = new double[CODES][CODES];
    double[] right = new double[CODES];
    for (int[] sample : codes) {
      addSample(sample, exposure, matrix, right);
    }
    addSmoothness(matrix);
    // Only differences are known: the middle code stands at 0 (the paper's own choice).
    double anchor = 1 + matrix[CODES / 2][CODES / 2];
    matrix[CODES / 2][CODES / 2] += anchor;
    for (int code = 0; code < CODES; code++) {
      matrix[code][code] += RIDGE * anchor;
    }
    double[] g = solve(matrix, right);
    double residual = residual(codes, exposure, g) / Math.log(2);
    int[] range = covered(codes);
    return new Curve(light(g), residual, codes.length, range[0], range[1]);
  }

  private static void addSample(
      int[] sample, double[] exposure, double[][] matrix, double[] right) {
    double sum = 0;
    double sumExposure = 0;
    for (int j = 0; j < sample.length; j++) {
      double w = squaredWeight(sample[j]);
      sum += w;
      sumExposure += w * exposure[j];
    }
    if (sum == 0) {
      return;
    }
    for (int j = 0; j < sample.length; j++) {
      double w = squaredWeight(sample[j]);
      matrix[sample[j]][sample[j]] += w;
      right[sample[j]] += w * (exposure[j] - sumExposure / sum);
      for (int k = 0; k < sample.length; k++) {
        matrix[sample[j]][sample[k]] -= w * squaredWeight(sample[k]) / sum;
      }
    }
  }

  private static double squaredWeight(int code) {
    return weight(code) * weight(code);
  }

  private void addSmoothness(double[][] matrix) {
    double[] second = {1, -2, 1};
    for (int code = 1; code < CODES - 1; code++) {
      double w = lambda * lambda * squaredWeight(code);
      for (int a = 0; a < 3; a++) {
        for (int b = 0; b < 3; b++) {
          matrix[code - 1 + a][code - 1 + b] += w * second[a] * second[b];
        }
      }
    }
  }

  /** Cholesky's method: the matrix is symmetric and positive definite. */
  private static double[] solve(double[][] matrix, double[] right) {
    int n = right.length;
    double[] x = right.clone();
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        double sum = matrix[i][j];
        for (int k = 0; k < j; k++) {
          sum -= matrix[i][k] * matrix[j][k];
        }
        matrix[i][j] = i == j ? Math.sqrt(sum) : sum / matrix[j][j];
      }
      for (int k = 0; k < i; k++) {
        x[i] -= matrix[i][k] * x[k];
      }
      x[i] /= matrix[i][i];
    }
    for (int i = n - 1; i >= 0; i--) {
      for (int k = i + 1; k < n; k++) {
        x[i] -= matrix[k][i] * x[k];
      }
      x[i] /= matrix[i][i];
    }
    return x;
  }

  private static double residual(int[][] codes, double[] exposure, double[] g) {
    double squares = 0;
    double weights = 0;
    for (int[] sample : codes) {
      double sum = 0;
      double mean = 0;
      for (int j = 0; j < sample.length; j++) {
        double w = squaredWeight(sample[j]);
        sum += w;
        mean += w * (g[sample[j]] - exposure[j]);
      }
      for (int j = 0; j < sample.length && sum > 0; j++) {
        double w = squaredWeight(sample[j]);
        double deviation = g[sample[j]] - exposure[j] - mean / sum;
        squares += w * deviation * deviation;
        weights += w;
      }
    }
    return weights == 0 ? 0 : Math.sqrt(squares / weights);
  }

  /** The codes between the 0.5th and the 99.5th percentile of those that carry weight. */
  private static int[] covered(int[][] codes) {
    int[] used =
        Arrays.stream(codes)
            .flatMapToInt(Arrays::stream)
            .filter(code -> code > 0 && code < CLIPPED)
            .sorted()
            .toArray();
    if (used.length == 0) {
      return new int[] {0, 0};
    }
    int edge = used.length / 200;
    return new int[] {used[edge], used[used.length - 1 - edge]};
  }

  /** Light relative to the highest code; black is black. */
  private static double[] light(double[] g) {
    double[] monotone = isotonic(g);
    double[] light = new double[CODES];
    for (int code = 0; code < CODES; code++) {
      light[code] = Math.exp(monotone[code] - monotone[CODES - 1]);
    }
    light[CODES - 1] = 1;
    return light;
  }

  /** Pool adjacent violators: the nearest sequence that never decreases. */
  private static double[] isotonic(double[] g) {
    double[] level = new double[g.length];
    int[] count = new int[g.length];
    int blocks = 0;
    for (double value : g) {
      level[blocks] = value;
      count[blocks++] = 1;
      while (blocks > 1 && level[blocks - 2] > level[blocks - 1]) {
        int both = count[blocks - 2] + count[blocks - 1];
        level[blocks - 2] =
            (level[blocks - 2] * count[blocks - 2] + level[blocks - 1] * count[blocks - 1]) / both;
        count[blocks - 2] = both;
        blocks--;
      }
    }
    double[] out = new double[g.length];
    for (int block = 0, at = 0; block < blocks; block++) {
      for (int i = 0; i < count[block]; i++) {
        out[at++] = level[block];
      }
    }
    return out;
  }
}
