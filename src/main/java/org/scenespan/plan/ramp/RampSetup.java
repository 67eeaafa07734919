package org.scenespan.plan.ramp;

import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Latitude;

/**
 * What a lapse is ramped within.
 *
 * @param latitude the aperture, which never moves, and what shutter and ISO may do; its longest
 *     shutter is the interval minus the gap
 * @param wish how bright the picture should be
 * @param intervalSeconds from one frame to the next, 0.2 s to an hour
 * @param start the scene's EV that is believed in until a frame is read
 * @param forecast how the light should go, where the place is known
 */
public record RampSetup(
    Latitude latitude,
    Wish wish,
    double intervalSeconds,
    Ev start,
    Optional<LightForecast> forecast) {
  public RampSetup {
    if (!(intervalSeconds >= 0.2 && intervalSeconds <= 3600)) {
      throw new IllegalArgumentException(
          "interval (" + intervalSeconds + " s) must be 0.2 s to an hour");
    }
  }
}
