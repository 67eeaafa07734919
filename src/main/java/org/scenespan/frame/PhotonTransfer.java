package org.scenespan.frame;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * Gain and read noise from differences of frames, after Janesick, "Photon Transfer" (SPIE Press
 * 2007): half the variance of the difference of two equal frames, in which scene and fixed pattern
 * cancel, grows with the mean signal; its slope is the gain, its start the noise without light.
 *
 * <p>Departure: two frames of a still scene need not be equal. With light L and saturation W
 * electrons a frame's variance is L/W + c, relative to saturation squared; so that of B − r·A,
 * where B has r times the light of A, is (1 + r)·L/W + (1 + r²)·c, with L the light of B. With r =
 * 1 it is the method of the book; with the steps of a bracket it is still a straight line in 1/W
 * and c, and the scene still cancels.
 */
public final class PhotonTransfer {
  /** Samples farther from the line, in standard deviations, moved or have changed light. */
  private static final double OUTLIER = 4;

  /** A sensor of today to begin with: 50 000 electrons, 5 of read noise. */
  private static final double[] START = {1.0 / 50_000, 1e-8};

  private static final int ROUNDS = 12;
  private static final int LEAST_SAMPLES = 30;

  /** Less light than this spread tells no slope. */
  private static final double LEAST_RANGE = 0.02;

  private PhotonTransfer() {}

  /**
   * One patch in two frames.
   *
   * @param light mean of the brighter frame, relative to saturation
   * @param ratio how many times the light of the other it has, 1 or more
   * @param variance of brighter − ratio · darker, in the same unit squared
   * @param freedom degrees of freedom of the variance
   * @param group samples of a group may share an error: a pair of frames, or a part of one
   */
  public record Sample(double light, double ratio, double variance, int freedom, int group) {
    double slope() {
      return (1 + ratio) * light;
    }

    double floor() {
      return 1 + ratio * ratio;
    }

    double at(double[] line) {
      return slope() * line[0] + floor() * line[1];
    }
  }

  /**
   * Noise of a sensor in electrons, with standard errors.
   *
   * @param samples that were kept
   */
  public record Result(
      double saturation,
      double saturationError,
      double readNoise,
      double readNoiseError,
      int samples) {}

  /**
   * @param bits of the raw file, whose rounding is taken out of the read noise
   * @return absent where the samples are too few or too alike to tell
   */
  public static Optional<Result> fit(List<Sample> samples, int bits) {
    List<Sample> kept = samples;
    double[] line = START.clone();
    for (int round = 0; round < ROUNDS; round++) {
      double[] last = line;
      if (round > 1) {
        kept =
            samples.stream()
                .filter(s -> Math.abs(s.variance - s.at(last)) <= OUTLIER * deviation(s, last))
                .toList();
      }
      Optional<double[]> next = solve(kept, line);
      if (next.isEmpty()) {
        return Optional.empty();
      }
      line = next.get();
    }
    double low = kept.stream().mapToDouble(Sample::light).min().orElse(0);
    double high = kept.stream().mapToDouble(Sample::light).max().orElse(0);
    if (kept.size() < LEAST_SAMPLES || high - low < LEAST_RANGE) {
      return Optional.empty();
    }
    return Optional.of(result(kept, line, bits));
  }

  /** A variance of n degrees of freedom scatters by √(2/n) of itself. */
  private static double deviation(Sample sample, double[] line) {
    return Math.max(1e-18, sample.at(line)) * Math.sqrt(2.0 / sample.freedom);
  }

  /** Weighted least squares: slope 1/W and floor c. */
  private static Optional<double[]> solve(List<Sample> samples, double[] line) {
    double[] m = normal(samples, line);
    double determinant = m[0] * m[2] - m[1] * m[1];
    if (!(determinant > 1e-9 * m[0] * m[2])) {
      return Optional.empty();
    }
    double slope = (m[2] * m[3] - m[1] * m[4]) / determinant;
    double floor = (m[0] * m[4] - m[1] * m[3]) / determinant;
    return slope > 0 && slope < 1 ? Optional.of(new double[] {slope, floor}) : Optional.empty();
  }

  private static double[] normal(List<Sample> samples, double[] line) {
    double[] m = new double[5];
    for (Sample sample : samples) {
      double w = 1 / Math.pow(deviation(sample, line), 2);
      m[0] += w * sample.slope() * sample.slope();
      m[1] += w * sample.slope() * sample.floor();
      m[2] += w * sample.floor() * sample.floor();
      m[3] += w * sample.slope() * sample.variance;
      m[4] += w * sample.floor() * sample.variance;
    }
    return m;
  }

  private static Result result(List<Sample> kept, double[] line, int bits) {
    double[] m = normal(kept, line);
    double determinant = m[0] * m[2] - m[1] * m[1];
    double chi = 0;
    for (Sample sample : kept) {
      chi += Math.pow((sample.variance - sample.at(line)) / deviation(sample, line), 2);
    }
    double widened = Math.max(1, chi / (kept.size() - 2));
    double varSlope = widened * m[2] / determinant;
    double varFloor = widened * m[0] / determinant;
    double covariance = -widened * m[1] / determinant;
    double[] values = electrons(line, bits);
    // By first derivatives: W = 1/a, and the floor in electrons squared is c/a².
    double a = line[0];
    double c = line[1];
    double saturationError = Math.sqrt(varSlope) / (a * a);
    double varSquare =
        varFloor / Math.pow(a, 4)
            + 4 * c * c * varSlope / Math.pow(a, 6)
            - 4 * c * covariance / Math.pow(a, 5);
    double squareError = Math.sqrt(Math.max(0, varSquare));
    double[] jack = jackknife(kept, line, bits);
    double readNoise = Math.sqrt(Math.max(0, values[1]));
    double readError = Math.max(squareError, jack[1]);
    return new Result(
        values[0],
        Math.max(saturationError, jack[0]),
        readNoise,
        // Near 0 the square's own error is what is known.
        Math.min(Math.sqrt(readError), readError / (2 * Math.max(1e-9, readNoise))),
        kept.size());
  }

  /** Saturation, and read noise squared without the rounding to codes. */
  private static double[] electrons(double[] line, int bits) {
    double saturation = 1 / line[0];
    double step = saturation / (1 << bits);
    return new double[] {saturation, line[1] * saturation * saturation - step * step / 12};
  }

  /** Standard errors by leaving out one group after the other; 0 with less than three. */
  private static double[] jackknife(List<Sample> kept, double[] line, int bits) {
    int[] groups = kept.stream().mapToInt(Sample::group).distinct().toArray();
    List<double[]> without = new ArrayList<>();
    for (int group : groups) {
      List<Sample> others = kept.stream().filter(sample -> sample.group != group).toList();
      solve(others, line).ifPresent(found -> without.add(electrons(found, bits)));
    }
    int n = without.size();
    if (n < 3) {
      return new double[2];
    }
    return IntStream.range(0, 2)
        .mapToDouble(
            i -> {
              double mean = without.stream().mapToDouble(v -> v[i]).average().orElseThrow();
              double sum = without.stream().mapToDouble(v -> Math.pow(v[i] - mean, 2)).sum();
              return Math.sqrt(sum * (n - 1) / n);
            })
        .toArray();
  }
}
