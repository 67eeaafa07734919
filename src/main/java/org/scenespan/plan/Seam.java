package org.scenespan.plan;

import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Stops;

/**
 * How far two neighbouring reaches have to overlap so that a coloured pixel finds a frame: one of
 * which a channel clips in the brighter frame must have its luminance above the darker frame's
 * floor.
 */
final class Seam {
  /** Colours more saturated than this do not widen a seam further, stops. */
  private static final double MOST_STOPS = 1.5;

  private static final double STEP_STOPS = 1.0 / 6;

  private Seam() {}

  /**
   * The least overlap that leaves no more pixels at the seam than may be let go: those whose
   * brightest channel lies above the brighter frame's clip point, less those whose luminance lies
   * above the darker frame's floor.
   */
  static Stops overlap(Evidence brighter, BracketGoal goal) {
    double allowed = goal.shadowTolerance().value() / 2;
    double clipped = brighter.aboveReach().value();
    double overlap = goal.overlap().value();
    while (overlap < MOST_STOPS) {
      Stops floor = NoiseModel.ceilingStops().minus(new Stops(overlap));
      if (clipped - brighter.luminance().shareAtOrAbove(floor).value() <= allowed) {
        break;
      }
      overlap += STEP_STOPS;
    }
    return new Stops(overlap);
  }
}
