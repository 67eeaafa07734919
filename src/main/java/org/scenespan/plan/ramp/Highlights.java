package org.scenespan.plan.ramp;

import java.util.OptionalDouble;
import org.scenespan.light.Share;

/**
 * What the highlights ask of the exposure: the EV from which on no more clips than is wished. Where
 * frames tell their headroom it is known; where they are clipped beyond the wish it is felt for, a
 * stop at first, then two, so that three frames suffice. It gives way slowly. Immutable.
 */
final class Highlights {
  private static final double FIRST_STOPS = 1;
  private static final double NEXT_STOPS = 2;

  /** How fast a hold that is no longer needed gives way, stops a second. */
  private static final double RELAX = 0.3 / 60;

  /** A new limit less than this above the old one is noise. */
  private static final double NOISE_STOPS = 0.05;

  /** Kept free above the brightest that may not clip, since light grows between two frames. */
  private static final double MARGIN_STOPS = 0.1;

  private final boolean isHeld;
  private final double limit;
  private final double at;
  private final int clippedFrames;

  private Highlights(boolean isHeld, double limit, double at, int clippedFrames) {
    this.isHeld = isHeld;
    this.limit = limit;
    this.at = at;
    this.clippedFrames = clippedFrames;
  }

  static Highlights none() {
    return new Highlights(false, 0, 0, 0);
  }

  Highlights after(Sighting sighting, Share mostClipped) {
    double exposure = sighting.exposure().value();
    double step = Math.max(0, sighting.seconds() - at);
    double relaxed = limit - RELAX * step;
    if (sighting.clipped().exceeds(mostClipped)) {
      double more = clippedFrames == 0 ? FIRST_STOPS : NEXT_STOPS;
      double raised = exposure + more;
      return new Highlights(
          true, isHeld ? Math.max(limit, raised) : raised, sighting.seconds(), clippedFrames + 1);
    }
    if (sighting.headroom().isPresent()) {
      double told = exposure - sighting.headroom().get().value() + MARGIN_STOPS;
      boolean isNoise = told < limit + NOISE_STOPS;
      double next = !isHeld || !isNoise ? told : Math.max(relaxed, Math.min(limit, told));
      return new Highlights(true, next, sighting.seconds(), 0);
    }
    return new Highlights(isHeld, relaxed, sighting.seconds(), 0);
  }

  /** The darkest EV that is asked for at a moment. */
  OptionalDouble at(double seconds, double rate) {
    return isHeld
        ? OptionalDouble.of(limit + Math.max(0, rate * (seconds - at)))
        : OptionalDouble.empty();
  }
}
