package org.scenespan.plan.ramp;

import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * What the next frame is taken with.
 *
 * @param seconds when it is due, since the lapse's start
 * @param exposure with the exact shutter and ISO
 * @param wish how bright it is meant to be against mid grey, what is held back for the highlights
 *     taken off
 * @param forecast the scene's EV that is expected then
 * @param wanted the EV that would make it exactly as bright as it is meant to be
 * @param why in words
 */
public record RampChoice(
    double seconds, Exposure exposure, Stops wish, Ev forecast, Ev wanted, String why) {
  /** By how much the frame should come out brighter (+) or darker (−) than it is meant to be. */
  public Stops expectedError() {
    return wanted.minus(exposure.ev());
  }
}
