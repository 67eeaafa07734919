package org.scenespan.plan.settings;

import java.util.List;
import java.util.Optional;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;

/**
 * What a planned exposure hands to a bracket or a lapse.
 *
 * @param start the exposure to begin with; its aperture is the picture's
 * @param longest the longest shutter that the wishes leave; none where nothing in the picture moves
 * @param highestIso the highest ISO that the wishes leave
 */
public record PlannedLimits(Exposure start, Optional<Shutter> longest, Iso highestIso) {
  public PlannedLimits {
    if (longest.isPresent() && longest.get().compareTo(start.shutter()) < 0) {
      throw new IllegalArgumentException(
          "longest shutter ("
              + longest.get()
              + ") must not be shorter than the start's, "
              + start.shutter());
    }
    if (highestIso.compareTo(start.iso()) < 0) {
      throw new IllegalArgumentException(
          "highest ISO (" + highestIso + ") must not be below the start's, " + start.iso());
    }
  }

  /** The limits that chosen settings leave under the wishes; what they give up is given up. */
  public static PlannedLimits of(Settings chosen, List<Wish> wishes) {
    Exposure start = chosen.exposure();
    double longest = Double.POSITIVE_INFINITY;
    Iso highest = start.iso();
    for (Wish wish : wishes) {
      longest = Math.min(longest, longestSeconds(wish, start));
      if (wish instanceof Wish.LowNoise noise && noise.highest().compareTo(highest) > 0) {
        highest = noise.highest();
      }
    }
    Optional<Shutter> limit =
        longest > 86_400
            ? Optional.empty()
            : Optional.of(new Shutter(Math.max(longest, start.shutter().seconds())));
    return new PlannedLimits(start, limit, highest);
  }

  private static double longestSeconds(Wish wish, Exposure start) {
    if (wish instanceof Wish.Freeze freeze) {
      return freeze.longestSeconds();
    }
    if (wish instanceof Wish.HandHeld held) {
      return held.longestSeconds();
    }
    if (wish instanceof Wish.StarPoints stars) {
      return stars.longestSeconds(start.aperture());
    }
    return Double.POSITIVE_INFINITY;
  }

  /** As the limits of a picture. */
  public PictureLimits picture() {
    PictureLimits limits = PictureLimits.at(start.aperture()).withHighestIso(highestIso);
    return longest.map(limits::withLongest).orElse(limits);
  }
}
