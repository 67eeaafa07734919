package org.scenespan.plan;

import java.util.Optional;
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
 * @param brighterSince by how much the scene's light has grown since the frame was taken
 * @param moved where what moved lies in the scene, as this frame has it; absent where nothing did
 */
public record Evidence(
    Exposure exposure,
    FrameSource source,
    LogHistogram luminance,
    LogHistogram brightest,
    ClippedAreas clippedAreas,
    Stops brighterSince,
    Optional<Reach> moved) {
  /**
   * The darkest code of an 8-bit picture that is believed: at code 3 one code is half a stop, and
   * below it compression alone moves a pixel by as much.
   */
  private static final int DARKEST_BELIEVED_CODE = 3;

  private static final Stops EIGHT_BIT_FLOOR =
      Stops.ofRatio(ToneResponse.srgbToLinear(DARKEST_BELIEVED_CODE / 255.0));

  /** A frame of a scene that has stayed as it was. */
  public Evidence(
      Exposure exposure,
      FrameSource source,
      LogHistogram luminance,
      LogHistogram brightest,
      ClippedAreas clippedAreas) {
    this(exposure, source, luminance, brightest, clippedAreas, Stops.ZERO, Optional.empty());
  }

  public static Evidence of(Exposure exposure, FrameMeasure measure) {
    return new Evidence(
        exposure,
        measure.source(),
        measure.luminance(),
        measure.brightest(),
        measure.clippedAreas());
  }

  /** This frame as it counts in light that has changed since, with what was seen to move. */
  public Evidence in(Stops brighter, Optional<Reach> movedParts) {
    return new Evidence(exposure, source, luminance, brightest, clippedAreas, brighter, movedParts);
  }

  /** The EV that would take the same frame in the light of now. */
  public Ev ev() {
    return exposure.ev().plus(brighterSince);
  }

  private Ev saturation() {
    return MidGrey.saturation(exposure).plus(brighterSince);
  }

  /** The scene EV of a level that is stated in stops relative to saturation. */
  public Ev sceneEv(Stops level) {
    return saturation().plus(level);
  }

  /** The level of a scene EV in this frame, in stops relative to saturation. */
  public Stops level(Ev sceneEv) {
    return sceneEv.minus(saturation());
  }

  public Reach reach(NoiseModel noise, double snr) {
    Reach taken = noise.reach(exposure, snr);
    return new Reach(taken.low().plus(brighterSince), taken.high().plus(brighterSince));
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
