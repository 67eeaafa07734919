package org.scenespan.frame;

import java.util.Optional;

/**
 * What sessions have shown of how long a frame takes. Seconds, without the exposure itself.
 *
 * @param frames that it is made of
 * @param file from the command to the whole file, measured: the median
 * @param slowest the 95th percentile of the same
 * @param captureSpread standard deviation from the command to the capture time that frames tell,
 *     where they tell it finer than to the second: the camera's clock hides the mean
 */
public record CameraLag(int frames, double file, double slowest, Optional<Double> captureSpread) {
  private static final double LONGEST_SECONDS = 3600;

  public CameraLag {
    if (!(frames >= 1)) {
      throw new IllegalArgumentException("frames (" + frames + ") must be 1 or more");
    }
    if (!(file >= 0 && file <= slowest && slowest <= LONGEST_SECONDS)) {
      throw new IllegalArgumentException(
          "lag (" + file + " s, at most " + slowest + " s) must be 0 to 1 hour");
    }
    double spread = captureSpread.orElse(0.0);
    if (!(spread >= 0 && spread <= LONGEST_SECONDS)) {
      throw new IllegalArgumentException("spread (" + spread + " s) must be 0 to 1 hour");
    }
  }
}
