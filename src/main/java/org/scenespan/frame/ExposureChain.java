package org.scenespan.frame;

import java.util.Arrays;

/**
 * How much light each frame of one still scene got, from patches that several frames hold: the log
 * exposures e and log radiances s that minimise Σ w (y − e − s)², the radiances eliminated. Frames
 * that share no patch even through others cannot be told.
 */
public final class ExposureChain {
  private ExposureChain() {}

  /**
   * @param stops of each frame relative to the reference; NaN where no chain of shared patches
   *     leads to it
   * @param residual how far the patches lie from it, weighted root mean square, stops: large where
   *     the frames show different scenes, or something moved
   */
  public record Chain(double[] stops, double residual) {}

  /**
   * @param light of each frame and patch relative to saturation; NaN where it is clipped or too
   *     dark to count
   * @param reference the number of the frame at 0
   */
  public static Chain of(double[][] light, int reference) {
    int frames = light.length;
    boolean[] reached = reached(light, reference);
    double[][] matrix = new double[frames][frames + 1];
    for (int patch = 0; patch < light[0].length; patch++) {
      add(matrix, light, patch, reached);
    }
    for (int f = 0; f < frames; f++) {
      if (f == reference || !reached[f]) {
        Arrays.fill(matrix[f], 0);
        matrix[f][f] = 1;
      }
    }
    double[] stops = solve(matrix);
    for (int f = 0; f < frames; f++) {
      stops[f] = reached[f] ? stops[f] : Double.NaN;
    }
    return new Chain(stops, residual(light, stops));
  }

  private static double residual(double[][] light, double[] stops) {
    double squares = 0;
    double weights = 0;
    for (int patch = 0; patch < light[0].length; patch++) {
      double sum = 0;
      double mean = 0;
      for (int f = 0; f < light.length; f++) {
        if (light[f][patch] > 0 && !Double.isNaN(stops[f])) {
          sum += light[f][patch];
          mean += light[f][patch] * (log2(light[f][patch]) - stops[f]);
        }
      }
      for (int f = 0; f < light.length && sum > 0; f++) {
        if (light[f][patch] > 0 && !Double.isNaN(stops[f])) {
          double off = log2(light[f][patch]) - stops[f] - mean / sum;
          squares += light[f][patch] * off * off;
          weights += light[f][patch];
        }
      }
    }
    return weights == 0 ? 0 : Math.sqrt(squares / weights);
  }

  /** Photon noise: a log's variance falls with the light, so light is the weight. */
  private static void add(double[][] matrix, double[][] light, int patch, boolean[] reached) {
    int frames = light.length;
    double sum = 0;
    double logs = 0;
    for (int f = 0; f < frames; f++) {
      if (reached[f] && light[f][patch] > 0) {
        sum += light[f][patch];
        logs += light[f][patch] * log2(light[f][patch]);
      }
    }
    for (int f = 0; f < frames && sum > 0; f++) {
      double w = reached[f] && light[f][patch] > 0 ? light[f][patch] : 0;
      if (w == 0) {
        continue;
      }
      matrix[f][f] += w;
      matrix[f][frames] += w * (log2(w) - logs / sum);
      for (int g = 0; g < frames; g++) {
        double other = reached[g] && light[g][patch] > 0 ? light[g][patch] : 0;
        matrix[f][g] -= w * other / sum;
      }
    }
  }

  private static boolean[] reached(double[][] light, int reference) {
    boolean[] reached = new boolean[light.length];
    reached[reference] = true;
    for (boolean more = true; more; ) {
      more = false;
      for (int f = 0; f < light.length; f++) {
        if (!reached[f] && meets(light, f, reached)) {
          reached[f] = true;
          more = true;
        }
      }
    }
    return reached;
  }

  private static boolean meets(double[][] light, int frame, boolean[] reached) {
    for (int other = 0; other < light.length; other++) {
      for (int patch = 0; reached[other] && patch < light[other].length; patch++) {
        if (light[frame][patch] > 0 && light[other][patch] > 0) {
          return true;
        }
      }
    }
    return false;
  }

  /** Gauss's elimination with the largest pivot; the last column is the right side. */
  private static double[] solve(double[][] matrix) {
    int n = matrix.length;
    for (int i = 0; i < n; i++) {
      int pivot = i;
      for (int row = i + 1; row < n; row++) {
        pivot = Math.abs(matrix[row][i]) > Math.abs(matrix[pivot][i]) ? row : pivot;
      }
      double[] swapped = matrix[i];
      matrix[i] = matrix[pivot];
      matrix[pivot] = swapped;
      for (int row = i + 1; row < n; row++) {
        double factor = matrix[row][i] / matrix[i][i];
        for (int column = i; column <= n && factor != 0; column++) {
          matrix[row][column] -= factor * matrix[i][column];
        }
      }
    }
    double[] x = new double[n];
    for (int i = n - 1; i >= 0; i--) {
      double sum = matrix[i][n];
      for (int k = i + 1; k < n; k++) {
        sum -= matrix[i][k] * x[k];
      }
      x[i] = sum / matrix[i][i];
    }
    return x;
  }

  private static double log2(double value) {
    return Math.log(value) / Math.log(2);
  }
}
