package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.scenespan.frame.FrameSource;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * How many stops a picture's levels move for a stop of exposure, measured on frames of one scene:
 * the same share of the picture stands at one level in the one and at another in the other (the
 * brightness transfer of Grossberg &amp; Nayar, IEEE PAMI 25(11), 2003). It is 1 where the codes
 * are light; a tone curve that lifts the shadows makes it less, and levels seem less dark than they
 * are.
 */
final class ToneSlope {
  /** Shares of the picture that are looked for in both frames, from dark to bright. */
  private static final double[] SHARES = {0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.97};

  /** Above it a channel may be clipped, and a clipped level does not move, stops. */
  private static final double BRIGHTEST = -0.5;

  /** Below it a code of eight bits is more than a tenth of its light, stops. */
  private static final double DARKEST = -8;

  /** Frames nearer than this tell a slope badly, stops. */
  private static final double LEAST_STEP = 1;

  /** A slope that differs from 1 by less is rounding. */
  private static final double TELLS_APART = 0.05;

  private static final double LEAST = 0.5;

  private ToneSlope() {}

  /** A level as it would be if the codes were light: never brighter than it seems. */
  static Stops darkened(Stops level, List<Evidence> frames) {
    double slope = of(frames);
    return slope < 1 - TELLS_APART && level.value() < 0
        ? new Stops(level.value() / Math.max(LEAST, slope))
        : level;
  }

  /** The median over what frames have in common; 1 where they tell nothing. */
  static double of(List<Evidence> frames) {
    List<Double> slopes = new ArrayList<>();
    for (Evidence bright : frames) {
      for (Evidence dark : frames) {
        double step = dark.ev().minus(bright.ev()).value();
        if (step >= LEAST_STEP && isEightBit(bright) && isEightBit(dark)) {
          collect(bright, dark, step, slopes);
        }
      }
    }
    Collections.sort(slopes);
    return slopes.isEmpty() ? 1 : slopes.get(slopes.size() / 2);
  }

  private static boolean isEightBit(Evidence frame) {
    return frame.source() != FrameSource.RAW;
  }

  private static void collect(Evidence bright, Evidence dark, double step, List<Double> slopes) {
    for (double share : SHARES) {
      double upper = bright.luminance().percentile(new Share(share)).value();
      double lower = dark.luminance().percentile(new Share(share)).value();
      if (upper <= BRIGHTEST && lower >= DARKEST) {
        slopes.add((upper - lower) / step);
      }
    }
  }
}
