package org.scenespan.plan;

import org.scenespan.light.Stops;

/**
 * Where the clip point of a cold start's first frame stands against the meter: the one free choice
 * of a bracket, since afterwards the largest gap-free step is right towards the highlights and the
 * tail is known towards the shadows.
 *
 * <p>For each offset the expected ratio of frames to the fewest possible is summed over the prior
 * on scenes; among offsets that are as good within {@link #SAME_FRAMES}, the darkest exposure, the
 * one that costs the least time, is taken.
 */
final class FirstFrame {
  /** Ratios of frames closer than this are the same: a frame in fifty brackets. */
  private static final double SAME_FRAMES = 0.02;

  /** Offsets are tried a click apart. */
  private static final double STEP_STOPS = 1.0 / 3;

  private static final double DARKEST_OFFSET = 18;

  private FirstFrame() {}

  /**
   * The clip point above the meter.
   *
   * @param reach stops that one frame holds
   * @param overlap stops lost at each seam
   */
  static Stops clipPointOverMeter(Stops reach, Stops overlap, ScenePrior prior) {
    double best = Double.POSITIVE_INFINITY;
    for (double offset = DARKEST_OFFSET; offset >= 0; offset -= STEP_STOPS) {
      best = Math.min(best, ratio(offset, reach.value(), overlap.value(), prior));
    }
    for (double offset = DARKEST_OFFSET; offset > 0; offset -= STEP_STOPS) {
      if (ratio(offset, reach.value(), overlap.value(), prior) <= best + SAME_FRAMES) {
        return new Stops(offset);
      }
    }
    return Stops.ZERO;
  }

  /**
   * Expected frames over the fewest, with the first frame's clip point at an offset, give or take
   * the half click to which an exposure is set.
   */
  static double ratio(double offset, double reach, double overlap, ScenePrior prior) {
    double half = STEP_STOPS / 2;
    return (exactRatio(offset - half, reach, overlap, prior)
            + exactRatio(offset, reach, overlap, prior)
            + exactRatio(offset + half, reach, overlap, prior))
        / 3;
  }

  private static double exactRatio(double offset, double reach, double overlap, ScenePrior prior) {
    double step = reach - overlap;
    double sum = 0;
    for (double high : prior.highlights()) {
      for (double low : prior.shadows()) {
        double above = Math.max(0, Math.ceil((high - offset) / step));
        double below = Math.max(0, Math.ceil((offset - reach + low) / step));
        // Clicks cost the optimum, too, a part of a stop at each frame.
        double fewest = Math.max(1, Math.ceil((high + low) / (reach - STEP_STOPS / 2)));
        sum += (1 + above + below) / fewest;
      }
    }
    return sum / prior.highlights().length / prior.shadows().length;
  }
}
