package org.scenespan.plan;

import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Iso;
import org.scenespan.light.Stops;

/** What the prior on scenes says of a cold start's first frame, for benchmarks in other rooms. */
public final class ColdStart {
  /** How many scenes of the prior can be left out of it. */
  public static final int MEASURED = 10;

  private static final double OVERLAP = BracketGoal.USUAL.overlap().value();

  private final double reach;
  private final ScenePrior prior;

  /**
   * @param without which of the measured scenes is left out of the prior, −1 for none
   */
  public ColdStart(double snr, int without) {
    this.reach = NoiseModel.TYPICAL.width(snr, Iso.EV_BASE).value();
    this.prior = ScenePrior.without(without, Intent.Keep.BOTH, false);
  }

  public double reach() {
    return reach;
  }

  /** Stops of the first frame's clip point over the meter, as the plan puts it. */
  public double offset() {
    return FirstFrame.clipPointOverMeter(new Stops(reach), new Stops(OVERLAP), prior, new Stops(30))
        .value();
  }

  /** Frames over the fewest that the plan expects. */
  public double expected() {
    return FirstFrame.ratio(offset(), reach, OVERLAP, prior);
  }

  /** The least that any offset is expected to come to where no stop is lost at seams. */
  public double leastExpected() {
    double least = Double.POSITIVE_INFINITY;
    for (double offset = -4; offset <= 16; offset += 1.0 / 12) {
      least = Math.min(least, FirstFrame.ratio(offset, reach, 0, prior));
    }
    return least;
  }
}
