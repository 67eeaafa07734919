package org.scenespan.session;

import java.util.List;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Latitude;
import org.scenespan.light.Rounding;
import org.scenespan.light.Stops;

/**
 * The exposure of a shot that follows lost ones: the wanted one, or the nearest that no shot had
 * yet, so that the late frame of a lost shot can be told from the new one by its own settings.
 */
final class Retakes {
  /**
   * How far from the wanted exposure a distinct one is looked for: ten stops. So far off a frame
   * shows little that is new, but it teaches the camera's clock, and then times tell shots apart.
   */
  private static final int MOST_CLICKS = 30;

  private Retakes() {}

  static Exposure distinct(Exposure wanted, List<Shot> shots, Latitude latitude) {
    // Those that were taken, too: they brought what they can, and their copies may come.
    List<Exposure> had =
        shots.stream()
            .filter(shot -> shot.standing() != Shot.Standing.REFUSED)
            .map(Shot::exposure)
            .toList();
    if (isFree(wanted, had)) {
      return wanted;
    }
    for (int clicks = 1; clicks <= MOST_CLICKS; clicks++) {
      Stops off = new Stops(clicks * Stops.THIRD.value());
      for (Ev ev : List.of(wanted.ev().minus(off), wanted.ev().plus(off))) {
        Exposure other = latitude.at(ev, Rounding.NEAREST);
        if (isFree(other, had)) {
          return other;
        }
      }
    }
    return wanted;
  }

  private static boolean isFree(Exposure exposure, List<Exposure> had) {
    return had.stream().noneMatch(exposure::isSameSetting);
  }
}
