package org.scenespan.proof;

import java.util.List;
import java.util.Optional;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.MeasuredShutters;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.PictureForm;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * What one frame's codes mean in electrons, and how uncertain they are.
 *
 * @param scales of red, green and blue
 * @param saturation electrons at clipping
 * @param electronsPerUnit that one unit of radiance yields
 * @param floorVariance noise without signal, electrons squared
 * @param tolerance by how much the frame's light may be off as a whole, a part of it: shutters and
 *     responses are not exact
 */
record FrameLight(
    List<CodeScale> scales,
    double saturation,
    double electronsPerUnit,
    double floorVariance,
    double tolerance) {
  /** Shutters are off by up to a tenth of a stop [practice]: 2^0.1 − 1. */
  private static final double SHUTTER_TOLERANCE = 0.072;

  /** What is left where the shutter was measured: the scatter of a good lens that stops down. */
  private static final double BLADES_STOPS = 0.05;

  /** A rendered picture of an unknown camera: a true step of 3 EV can look like 4. */
  private static final double RENDERED_TOLERANCE = 0.3;

  FrameLight {
    scales = List.copyOf(scales);
  }

  /**
   * @param unit the scene EV of radiance 1
   * @param profile of the camera that rendered the frame, if it is known
   */
  static FrameLight of(
      PictureForm form,
      Exposure exposure,
      NoiseModel noise,
      Ev unit,
      Optional<CameraProfile> profile) {
    double saturation = noise.saturation(exposure.iso());
    Optional<MeasuredShutters> shutters = profile.flatMap(CameraProfile::shutters);
    Exposure real = shutters.map(times -> times.real(exposure)).orElse(exposure);
    Stops below = unit.minus(MidGrey.saturation(real));
    double floor = noise.floor(exposure.iso());
    boolean responds = profile.filter(CameraProfile::hasResponse).isPresent();
    boolean known = !form.rendered() || responds;
    List<CodeScale> scales =
        form.rendered() && responds
            ? profile.get().channels().stream().map(c -> CodeScale.of(c.response())).toList()
            : List.of(form.response(), form.response(), form.response());
    return new FrameLight(
        scales,
        saturation,
        saturation * below.ratio(),
        floor * floor,
        known ? tolerance(shutters, exposure) : RENDERED_TOLERANCE);
  }

  /** Three standard errors of a measured shutter, and what an aperture's blades may add. */
  private static double tolerance(Optional<MeasuredShutters> shutters, Exposure exposure) {
    return shutters
        .flatMap(times -> times.of(exposure.shutter()))
        .map(error -> Math.pow(2, 3 * error.standardError() + BLADES_STOPS) - 1)
        .filter(measured -> measured < SHUTTER_TOLERANCE)
        .orElse(SHUTTER_TOLERANCE);
  }

  /** Tables by code, for the loops over pixels. */
  Tables tables(int channel) {
    CodeScale scale = scales.get(channel);
    float[] electrons = new float[scale.codes()];
    float[] guard = new float[scale.codes()];
    float[] rounding = new float[scale.codes()];
    for (int code = 0; code < electrons.length; code++) {
      double light = scale.light(code);
      double step = scale.step(code) * saturation;
      electrons[code] = (float) (light * saturation);
      guard[code] = code == scale.codes() - 1 ? 0 : (float) guard(light);
      rounding[code] = (float) (step * step / 12);
    }
    return new Tables(electrons, guard, rounding);
  }

  /** From here on a value counts less, as a part of saturation. */
  static final double GUARD_FROM = NoiseModel.HEADROOM;

  /** From here on it counts no more. */
  static final double GUARD_TO = NoiseModel.HEADROOM + 0.03;

  /** 1 below saturation, falling smoothly (a cubic without corners) to 0 above 0.95 of it. */
  static double guard(double light) {
    double t = (light - GUARD_FROM) / (GUARD_TO - GUARD_FROM);
    return t <= 0 ? 1 : t >= 1 ? 0 : 1 - t * t * (3 - 2 * t);
  }

  /**
   * @param electrons of each code, below 0 where noise is below black
   * @param guard how much each code counts
   * @param rounding variance of each code's rounding, electrons squared
   */
  record Tables(float[] electrons, float[] guard, float[] rounding) {}
}
