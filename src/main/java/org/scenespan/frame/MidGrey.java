package org.scenespan.frame;

import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * Where the middle of a metered picture stands in a frame.
 *
 * <p>ISO 12232's saturation speed, S = 78 / H_sat, puts an 18 % grey at 12.7 % of saturation, so
 * that a 100 % white stands half a stop below clipping.
 */
public final class MidGrey {
  /** Mid grey below saturation: log2(1 / 0.127) = 2.977 stops. */
  public static final Stops BELOW_SATURATION = new Stops(2.977);

  private MidGrey() {}

  /** The scene EV that just saturates a frame taken with this exposure. */
  public static Ev saturation(Exposure exposure) {
    return exposure.ev().plus(BELOW_SATURATION);
  }
}
