package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.scenespan.frame.NoiseModel;

/**
 * Which of the frames make the set: those without which the cover would be worse. The others add
 * nothing and can be left out of a merge; they stay in the journal.
 */
public final class CoverSet {
  private CoverSet() {}

  /** The frames that are needed, in the order in which they were taken. */
  public static List<Evidence> of(BracketGoal goal, NoiseModel noise, List<Evidence> frames) {
    List<Evidence> kept = new ArrayList<>(frames);
    List<Evidence> longestFirst = new ArrayList<>(frames);
    // The longest is tried first: of two frames that could go, the one that costs the most does.
    longestFirst.sort(Comparator.comparing(Evidence::ev));
    SpanEstimate whole = SpanEstimate.of(goal, noise, frames);
    for (Evidence frame : longestFirst) {
      if (kept.size() == 1) {
        break;
      }
      List<Evidence> rest = new ArrayList<>(kept);
      rest.remove(rest.lastIndexOf(frame));
      if (isAsGood(SpanEstimate.of(goal, noise, rest), whole)) {
        kept = rest;
      }
    }
    return List.copyOf(kept);
  }

  private static boolean isAsGood(SpanEstimate part, SpanEstimate whole) {
    return part.openAbove().value() <= whole.openAbove().value()
        && part.openBelow().value() <= whole.openBelow().value()
        && part.gap().value() <= whole.gap().value();
  }
}
