package org.scenespan.frame;

import org.scenespan.light.Iso;

/**
 * What frames have shown of a sensor's noise at one ISO. Errors are standard errors, electrons.
 *
 * @param saturation electrons at saturation at this ISO
 * @param readNoise electrons, quantisation taken out
 * @param bits of the raw file
 * @param frames that it is made of
 * @param samples differences of patches that it is made of
 * @param equalPairs whether from pairs of frames with the same settings; else from a bracket alone
 */
public record MeasuredNoise(
    Iso iso,
    double saturation,
    double saturationError,
    double readNoise,
    double readNoiseError,
    int bits,
    int frames,
    int samples,
    boolean equalPairs) {
  public MeasuredNoise {
    new NoiseModel(saturation, readNoise, bits, iso);
    if (!(saturationError >= 0 && saturationError < 1e9)) {
      throw new IllegalArgumentException(
          "error of saturation (" + saturationError + " e-) must be 0 or more");
    }
    if (!(readNoiseError >= 0 && readNoiseError < 1e9)) {
      throw new IllegalArgumentException(
          "error of read noise (" + readNoiseError + " e-) must be 0 or more");
    }
    if (!(frames >= 2 && samples >= 1)) {
      throw new IllegalArgumentException(
          "noise needs two frames and a sample, not " + frames + ", " + samples);
    }
  }

  /** Electrons to one code of the raw file: the gain that photon transfer is named for. */
  public double electronsPerCode() {
    return saturation / (1 << bits);
  }

  /** The sensor whose base ISO is this one. */
  public NoiseModel model() {
    return new NoiseModel(saturation, readNoise, bits, iso);
  }
}
