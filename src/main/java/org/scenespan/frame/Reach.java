package org.scenespan.frame;

import org.scenespan.light.Ev;
import org.scenespan.light.Stops;

/**
 * The EV window in which one frame is neither clipped nor below the asked signal-to-noise.
 *
 * @param low the darkest part of the scene that it holds
 * @param high the brightest
 */
public record Reach(Ev low, Ev high) {
  public Reach {
    if (low.compareTo(high) > 0) {
      throw new IllegalArgumentException(
          "a reach's low end (" + low + ") must not lie above its high end (" + high + ")");
    }
  }

  public Stops width() {
    return high.minus(low);
  }

  public boolean holds(Ev ev) {
    return ev.compareTo(low) >= 0 && ev.compareTo(high) <= 0;
  }
}
