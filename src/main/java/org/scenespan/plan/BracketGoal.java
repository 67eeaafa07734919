package org.scenespan.plan;

import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * What a bracket has to reach.
 *
 * @param snr the signal-to-noise ratio that every part of the span has in some frame, 1 to 200
 * @param clipTolerance the brightest share of the pixels that may be let go (glints, a sun's disc)
 * @param shadowTolerance the darkest share of the pixels that may be let go
 * @param overlap stops by which the reaches of neighbouring frames overlap, 0 to 4
 * @param maxFrames the most frames, 1 to 99
 * @param intent what the photographer wants beyond that
 */
public record BracketGoal(
    double snr,
    Share clipTolerance,
    Share shadowTolerance,
    Stops overlap,
    int maxFrames,
    Intent intent) {
  public static final BracketGoal USUAL =
      new BracketGoal(10, new Share(0.0001), new Share(0.005), new Stops(0.15), 12);

  /** Of a scene of which one end may go, the half of the picture at that end. */
  private static final Share HALF = new Share(0.5);

  public BracketGoal {
    if (!(snr >= 1 && snr <= 200)) {
      throw new IllegalArgumentException("signal-to-noise (" + snr + ") must be 1 to 200");
    }
    if (!(clipTolerance.value() + shadowTolerance.value() < 1)) {
      throw new IllegalArgumentException(
          "clip tolerance ("
              + clipTolerance.value()
              + ") and shadow tolerance ("
              + shadowTolerance.value()
              + ") together must be less than the whole picture");
    }
    if (!(overlap.value() >= 0 && overlap.value() <= 4)) {
      throw new IllegalArgumentException(
          "overlap (" + overlap.value() + " stops) must be 0 to 4 stops");
    }
    if (!(maxFrames >= 1 && maxFrames <= 99)) {
      throw new IllegalArgumentException("most frames (" + maxFrames + ") must be 1 to 99");
    }
  }

  public BracketGoal(
      double snr, Share clipTolerance, Share shadowTolerance, Stops overlap, int maxFrames) {
    this(snr, clipTolerance, shadowTolerance, overlap, maxFrames, Intent.USUAL);
  }

  public BracketGoal withIntent(Intent other) {
    return new BracketGoal(snr, clipTolerance, shadowTolerance, overlap, maxFrames, other);
  }

  /** The brightest share that may be let go, given which end matters. */
  Share brightShareToLetGo() {
    return intent.keep() == Intent.Keep.SHADOWS && HALF.exceeds(clipTolerance)
        ? HALF
        : clipTolerance;
  }

  /** The darkest share that may be let go, given which end matters. */
  Share darkShareToLetGo() {
    return intent.keep() == Intent.Keep.HIGHLIGHTS && HALF.exceeds(shadowTolerance)
        ? HALF
        : shadowTolerance;
  }
}
