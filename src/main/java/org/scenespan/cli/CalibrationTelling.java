package org.scenespan.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import org.scenespan.frame.CameraLag;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.MeasuredNoise;
import org.scenespan.frame.MeasuredShutters;
import org.scenespan.frame.ShutterError;
import org.scenespan.frame.ToneResponse;

/** Tells of each number of a calibration how good it is, and what would make it better. */
final class CalibrationTelling {
  private static final String[] COLOURS = {"Red", "Green", "Blue"};

  /** The sRGB code of an 18 % grey (IEC 61966-2-1: 0.461 of 255). */
  private static final int GREY_CODE = 118;

  /** Two standard errors hold the truth 19 times in 20. */
  private static final double CONFIDENT = 2;

  /** A number that is off by a larger part calls for more frames. */
  private static final double GOOD_SHARE = 0.02;

  /** A hundredth of a third stop is more than any use of a shutter time asks for. */
  private static final double GOOD_STOPS = 0.02;

  /** Fewer frames do not tell the 95th percentile. */
  private static final int GOOD_FRAMES = 20;

  private final PrintWriter out;

  CalibrationTelling(PrintWriter out) {
    this.out = out;
  }

  /**
   * @param found by this calibration
   */
  void tell(CameraProfile found) {
    out.println(found.camera());
    response(found);
    noise(found.noise());
    found.shutters().ifPresentOrElse(this::shutters, this::noShutters);
    found.lag().ifPresentOrElse(this::lag, this::noLag);
  }

  private void say(String format, Object... values) {
    out.printf(Locale.ROOT, format + "%n", values);
  }

  private void response(CameraProfile profile) {
    if (!profile.hasResponse()) {
      say("Response: not told by these files; give JPEGs of a still scene over 2 stops or more.");
      return;
    }
    say("Response from %d frames over %.1f stops.", profile.frames(), profile.spanStops());
    double usual = stops(ToneResponse.srgb(8).linear(GREY_CODE));
    for (int i = 0; i < COLOURS.length; i++) {
      CameraProfile.Channel channel = profile.channels().get(i);
      say(
          "  %s: %d flat places, codes %d to %d covered; they lie within %.3f stop of the curve"
              + " (root mean square). Code %d is %.2f stops below clipping (plain sRGB: %.2f).",
          COLOURS[i],
          channel.samples(),
          channel.lowestCode(),
          channel.highestCode(),
          channel.residualStops(),
          GREY_CODE,
          -stops(channel.response().linear(GREY_CODE)),
          -usual);
      channel
          .headroom()
          .ifPresent(
              headroom ->
                  say(
                      "    Raw goes on for %.2f stop above the JPEG's clipping (spread %.2f, %d"
                          + " places).",
                      headroom.stops(), headroom.spreadStops(), headroom.samples()));
    }
    if (profile.leastHeadroom().isEmpty()) {
      say(
          "Headroom: not told; give the raw files of bright but unclipped frames beside their"
              + " JPEGs.");
    }
  }

  private void noise(List<MeasuredNoise> all) {
    if (all.isEmpty()) {
      say(
          "Noise: not told by these files; give raw files (DNG) in pairs with the same settings of"
              + " an evenly lit wall, from dark to bright.");
      return;
    }
    for (MeasuredNoise noise : all) {
      say(
          "Noise at %s, by %s: %d frames, %d differences of patches.",
          noise.iso(),
          noise.equalPairs()
              ? "photon transfer from pairs of equal frames"
              : "photon transfer from the steps of a bracket",
          noise.frames(),
          noise.samples());
      say(
          "  Saturation %.0f e- (95 %% sure of %.0f to %.0f), %.3f e- to a code of %d bits.",
          noise.saturation(),
          noise.saturation() - CONFIDENT * noise.saturationError(),
          noise.saturation() + CONFIDENT * noise.saturationError(),
          noise.electronsPerCode(),
          noise.bits());
      say(
          "  Read noise %.2f e- (95 %% sure of %.2f to %.2f).",
          noise.readNoise(),
          Math.max(0, noise.readNoise() - CONFIDENT * noise.readNoiseError()),
          noise.readNoise() + CONFIDENT * noise.readNoiseError());
      better(noise);
    }
  }

  private void better(MeasuredNoise noise) {
    if (!noise.equalPairs()) {
      say("  Better: two frames with the same settings at each step; a scene that stands still.");
    }
    if (noise.saturationError() > GOOD_SHARE * noise.saturation()) {
      say("  Saturation gets better with more pairs near half of saturation.");
    }
    if (noise.readNoiseError() > 0.1 * Math.max(0.5, noise.readNoise())) {
      say("  Read noise gets better with pairs that are nearly dark: the shortest shutter.");
    }
  }

  private void shutters(MeasuredShutters times) {
    say(
        "Shutter times, relative to %s: light tells ratios only. 1/125 is exactly 1/128 s.",
        times.reference());
    boolean single = times.errors().stream().allMatch(error -> error.frames() == 1);
    double worst = 0;
    for (ShutterError error : times.errors()) {
      worst = Math.max(worst, error.standardError());
      say(
          "  %-9s %+.3f stop, standard error %.3f (%d frame%s)",
          error.shutter(),
          error.error().value(),
          error.standardError(),
          error.frames(),
          error.frames() == 1 ? "" : "s");
    }
    if (single) {
      say(
          "  One frame each does not tell the shutter's scatter from the lamp's; two or more of"
              + " each would.");
    } else if (worst > GOOD_STOPS) {
      say("  They get better with more frames of each, in daylight or by a lamp without flicker.");
    }
  }

  private void noShutters() {
    say(
        "Shutter times: not told; give raw files (DNG) at one aperture and ISO with two or more"
            + " shutters, of a scene and a light that stay the same.");
  }

  private void lag(CameraLag lag) {
    say(
        "From the command to the measured file, without the exposure: %.2f s, 95 %% within %.2f s"
            + " (%d frames).",
        lag.file(), lag.slowest(), lag.frames());
    lag.captureSpread()
        .ifPresent(
            spread ->
                say(
                    "  From the command to the capture it scatters by %.3f s; how long it is itself"
                        + " the camera's clock hides.",
                    spread));
    if (lag.frames() < GOOD_FRAMES) {
      say("  It gets better with more sessions: %d frames or more.", GOOD_FRAMES);
    }
  }

  private void noLag() {
    say("Lag: not told; name a session that fired by a trigger with --session.");
  }

  private static double stops(double light) {
    return Math.log(light) / Math.log(2);
  }
}
