package org.scenespan.plan.ramp;

import java.util.Optional;
import org.scenespan.light.Share;

/**
 * A lapse's first frames, before its exposure has found the light. What is clipped reads too dark:
 * where a darker exposure then shows a brighter scene, the light has not changed, and what was read
 * before is void. Immutable.
 *
 * @param frames that were read
 * @param before the latest of them
 */
record Opening(int frames, Optional<Sighting> before) {
  static final Opening NONE = new Opening(0, Optional.empty());

  /** Later, the exposure goes with the light, and a glaring sun is what it is. */
  private static final int MOST_FRAMES = 8;

  /** A step of the exposure that is no ramp's, and a scene that is no noise's, stops. */
  private static final double DARKER_STOPS = 0.3;

  private static final double BRIGHTER_STOPS = 0.1;

  Opening after(Sighting sighting) {
    return frames < MOST_FRAMES ? new Opening(frames + 1, Optional.of(sighting)) : this;
  }

  /** Whether a new frame shows that those before were too far clipped to tell the light. */
  boolean wasReadTooDark(Sighting sighting, Share mostClipped) {
    return frames < MOST_FRAMES
        && before
            .filter(it -> it.seconds() < sighting.seconds())
            .filter(it -> it.clipped().exceeds(mostClipped))
            .filter(it -> sighting.exposure().minus(it.exposure()).value() > DARKER_STOPS)
            .filter(it -> sighting.scene().minus(it.scene()).value() > BRIGHTER_STOPS)
            .isPresent();
  }
}
