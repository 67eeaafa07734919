package org.scenespan.frame;

import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Stops;

/**
 * A sensor's noise, after Hasinoff, Durand &amp; Freeman (CVPR 2010): for a signal of S electrons
 * the variance is S + σ² + g²/12, with g the electrons to a code. Dark current and fixed pattern
 * are left out: they matter at exposures of minutes and at signal-to-noise above 100.
 *
 * @param fullWell electrons at saturation at the base ISO, above 0
 * @param readNoise σ, electrons, 0 or more
 * @param bits of the raw file, 8 to 16
 * @param baseIso the ISO at which saturation is the full well
 */
public record NoiseModel(double fullWell, double readNoise, int bits, Iso baseIso) {
  /** The top of a frame's reach, as a part of saturation: near clipping the noise itself clips. */
  public static final double HEADROOM = 0.95;

  /** A full-frame sensor of today, the one that the project's check values are computed for. */
  public static final NoiseModel TYPICAL = new NoiseModel(50_000, 3, 14, Iso.EV_BASE);

  public NoiseModel {
    if (!(fullWell > 0 && fullWell <= 1e9)) {
      throw new IllegalArgumentException("full well (" + fullWell + " e-) must be above 0");
    }
    if (!(readNoise >= 0 && readNoise < fullWell)) {
      throw new IllegalArgumentException(
          "read noise (" + readNoise + " e-) must be 0 or more and less than the full well");
    }
    if (!(bits >= 8 && bits <= 16)) {
      throw new IllegalArgumentException("bits (" + bits + ") must be 8 to 16");
    }
  }

  /** Electrons at saturation: at a higher ISO fewer of them fill the range of codes. */
  public double saturation(Iso iso) {
    return fullWell * Math.min(1, baseIso.speed() / iso.speed());
  }

  /** Noise without signal, electrons: read noise and quantisation. */
  public double floor(Iso iso) {
    double electronsPerCode = saturation(iso) / (1 << bits);
    return Math.sqrt(readNoise * readNoise + electronsPerCode * electronsPerCode / 12);
  }

  /**
   * The least signal that has a signal-to-noise ratio, electrons: S = (q² + q√(q² + 4σ²)) / 2,
   * which solves S / √(S + σ²) = q.
   */
  public double leastSignal(double snr, Iso iso) {
    if (!(snr > 0 && snr <= 10_000)) {
      throw new IllegalArgumentException("signal-to-noise (" + snr + ") must be above 0");
    }
    double sigma = floor(iso);
    return (snr * snr + snr * Math.sqrt(snr * snr + 4 * sigma * sigma)) / 2;
  }

  /** Signal-to-noise of a signal in electrons. */
  public double snr(double electrons, Iso iso) {
    double sigma = floor(iso);
    return electrons <= 0 ? 0 : electrons / Math.sqrt(electrons + sigma * sigma);
  }

  /** Where a signal-to-noise ratio is reached, in stops relative to saturation (negative). */
  public Stops floorStops(double snr, Iso iso) {
    return Stops.ofRatio(leastSignal(snr, iso) / saturation(iso));
  }

  /** How many stops one frame holds at a signal-to-noise ratio: log2(h·W / S_min). */
  public Stops width(double snr, Iso iso) {
    return Stops.ofRatio(HEADROOM * saturation(iso) / leastSignal(snr, iso));
  }

  /** The top of every frame's reach, in stops relative to saturation. */
  public static Stops ceilingStops() {
    return Stops.ofRatio(HEADROOM);
  }

  /**
   * The EV window that a frame holds at a signal-to-noise ratio.
   *
   * @throws IllegalArgumentException if the ratio cannot be reached even at saturation
   */
  public Reach reach(Exposure exposure, double snr) {
    Iso iso = exposure.iso();
    if (!(width(snr, iso).value() > 0)) {
      throw new IllegalArgumentException(
          "signal-to-noise (" + snr + ") is more than this sensor has at saturation at " + iso);
    }
    return new Reach(
        MidGrey.saturation(exposure).plus(floorStops(snr, iso)),
        MidGrey.saturation(exposure).plus(ceilingStops()));
  }
}
