package org.scenespan.plan.ramp;

import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * What one frame told of the light.
 *
 * @param seconds when it was exposed, since the lapse's start
 * @param exposure the EV that it was really taken with
 * @param scene the EV that renders the photographer's part of the picture as mid grey
 * @param clipped how much of the picture is clipped
 * @param headroom by how much the frame could have been brighter before more is clipped than the
 *     wish lets go, 0 or more; absent where that much is clipped already, or where it is not known
 */
public record Sighting(
    double seconds, Ev exposure, Ev scene, Share clipped, Optional<Stops> headroom) {
  public Sighting {
    if (!Double.isFinite(seconds)) {
      throw new IllegalArgumentException("time (" + seconds + " s) must be a finite number");
    }
    if (headroom.isPresent() && !(headroom.get().value() >= 0)) {
      throw new IllegalArgumentException("headroom (" + headroom.get() + ") must be 0 or more");
    }
  }

  /**
   * A frame by how bright it came out.
   *
   * @param brightness of the photographer's part of the picture, against mid grey
   */
  public static Sighting of(
      double seconds, Ev exposure, Stops brightness, Share clipped, Optional<Stops> headroom) {
    return new Sighting(seconds, exposure, exposure.plus(brightness), clipped, headroom);
  }
}
