package org.scenespan.frame;

import org.scenespan.light.Iso;

/**
 * By how much a block's mean light may differ between two frames in which nothing has moved.
 *
 * @param noise the sensor's
 * @param depth what the codes are
 */
public record BlockNoise(NoiseModel noise, Depth depth) {
  /** Deviations of noise that are no movement: with four, one still block in 16 000 is flagged. */
  private static final double DEVIATIONS = 4;

  /** A block whose noise is more than this part of it tells nothing. */
  private static final double TOO_NOISY = 0.1;

  /** What the codes of a frame are, and how far frames as wholes differ beside their noise. */
  public enum Depth {
    /** Linear codes of many bits: a shutter's scatter within the frame, and flicker. */
    RAW(0.07),
    /** Eight bits through a response that was measured. */
    MEASURED(0.12),
    /** Eight bits through a response that is guessed: colours of one luminance differ by it. */
    GUESSED(0.30);

    private final double tolerance;

    Depth(double tolerance) {
      this.tolerance = tolerance;
    }

    /** Whether equal steps of light are equal steps of what is measured. */
    public boolean isLinear() {
      return this != GUESSED;
    }
  }

  /** Half a code of eight bits, as a part of light: what rounding and compression may leave. */
  private static double halfCode(double light) {
    double code = 255 * ToneResponse.linearToSrgb(light);
    return 0.5 * 2.4 / Math.max(1, code);
  }

  /**
   * The relative deviation of a block's mean.
   *
   * @param light relative to saturation, above 0
   * @param pixels in the block
   */
  private double deviation(double light, int pixels, Iso iso) {
    double snr = noise.snr(light * noise.saturation(iso), iso);
    return snr > 0 ? 1 / (snr * Math.sqrt(pixels)) : Double.POSITIVE_INFINITY;
  }

  /** Whether a block's mean tells its light. */
  boolean tells(double light, int pixels, Iso iso) {
    return light > 0
        && deviation(light, pixels, iso) <= TOO_NOISY
        && (depth == Depth.RAW || halfCode(light) <= TOO_NOISY);
  }

  /** The largest natural logarithm of a ratio that is no movement. */
  double allowed(double one, Iso oneIso, double other, Iso otherIso, int pixels) {
    double a = deviation(one, pixels, oneIso);
    double b = deviation(other, pixels, otherIso);
    double codes = depth == Depth.RAW ? 0 : halfCode(one) + halfCode(other);
    return Math.log1p(depth.tolerance) + codes + DEVIATIONS * Math.sqrt(a * a + b * b);
  }
}
