package org.scenespan.plan;

import org.scenespan.frame.ClippedAreas;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LogHistogram;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * What one frame says of the scene.
 *
 * @param exposure what it was taken with
 * @param source what was measured: raw data sees deeper into the shadows than a JPEG of eight bits
 * @param luminance pixels by luminance
 * @param brightest pixels by their brightest channel, the one that clips first
 * @param clippedAreas clipped pixels by the size of their connected area
 */
public record Evidence(
    Exposure exposure,
    FrameSource source,
    LogHistogram luminance,
    LogHistogram brightest,
    ClippedAreas clippedAreas) {
  /**
   * The darkest code of an 8-bit picture that is believed: at code 3 one code is half a stop, and
   * below it compression alone moves a pixel by as much.
   */
  private static final int DARKEST_BELIEVED_CODE = 3;

  private static final Stops EIGHT_BIT_FLOOR =
      Stops.ofRatio(ToneResponse.srgbToLinear(DARKEST_BELIEVED_CODE / 255.0));

  public static Evidence of(Exposure exposure, FrameMeasure measure) {
    return new Evidence(
        exposure,
        measure.source(),
        measure.luminance(),
        measure.brightest(),
        measure.clippedAreas());
  }

  public Ev ev() {
    return exposure.ev();
  }

  /** The scene EV of a level that is stated in stops relative to saturation. */
  public Ev sceneEv(Stops level) {
    return MidGrey.saturation(exposure).plus(level);
  }

  /** The level of a scene EV in this frame, in stops relative to saturation. */
  public Stops level(Ev sceneEv) {
    return sceneEv.minus(MidGrey.saturation(exposure));
  }

  public Reach reach(NoiseModel noise, double snr) {
    return noise.reach(exposure, snr);
  }

  /** The share of the picture that is too bright for this frame, in any channel. */
  public Share aboveReach() {
    return brightest.shareAtOrAbove(NoiseModel.ceilingStops());
  }

  /** The same without what is clipped in connected areas that may be let go. */
  public Share aboveReach(Share letGoArea) {
    double small = clippedAreas.inAreasUpTo(letGoArea, brightest.total()).value();
    return new Share(Math.max(0, aboveReach().value() - small));
  }

  /** The luminance histogram without the sensor's noise, where that can be told. */
  LogHistogram light(NoiseModel noise) {
    return source == FrameSource.RAW ? Unfolding.of(luminance, noise, exposure.iso()) : luminance;
  }

  /** The share of the picture whose luminance is below the asked signal-to-noise. */
  public Share belowReach(NoiseModel noise, double snr) {
    return luminance.shareBelow(noise.floorStops(snr, exposure.iso()));
  }

  /**
   * The darkest level whose brightness this frame still tells, in stops relative to saturation: a
   * signal-to-noise of 1 in raw data, a few codes above black in a picture of eight bits.
   */
  public Stops seesDownTo(NoiseModel noise) {
    Stops noiseFloor = noise.floorStops(1, exposure.iso());
    return source == FrameSource.RAW || noiseFloor.compareTo(EIGHT_BIT_FLOOR) > 0
        ? noiseFloor
        : EIGHT_BIT_FLOOR;
  }
}
