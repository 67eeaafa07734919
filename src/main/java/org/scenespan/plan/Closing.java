package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;

/** What is open after some frames, and which exposures would close it, where others set them. */
public final class Closing {
  private Closing() {}

  /** What is open, in words; of a span that is not covered. */
  public static String open(SpanEstimate span) {
    return OpenWords.of(span);
  }

  /**
   * The exposures that would close what is open, as far as it can be told, the darkest first: as
   * few as join with the frames that are there.
   */
  public static List<Ev> exposures(BracketPlan plan, SpanEstimate span, List<Evidence> frames) {
    Ev darkest = frames.stream().map(Evidence::ev).max(Comparator.naturalOrder()).orElseThrow();
    Ev brightest = frames.stream().map(Evidence::ev).min(Comparator.naturalOrder()).orElseThrow();
    double step = plan.step().value();
    List<Ev> wanted = new ArrayList<>(evenly(darkest, span.openAbove().value(), step));
    for (SpanEstimate.Gap gap : SpanEstimate.Gap.between(plan.goal(), plan.noise(), frames)) {
      double middle = (gap.low().value() + gap.high().value()) / 2;
      Ev clipPoint = new Ev(middle + plan.width().value() / 2);
      wanted.add(clipPoint.minus(NoiseModel.ceilingStops()).minus(MidGrey.BELOW_SATURATION));
    }
    wanted.addAll(evenly(brightest, -span.openBelow().value(), step));
    wanted.sort(Comparator.reverseOrder());
    return wanted;
  }

  /** From one exposure so many stops on, in steps that are equal and no larger than the largest. */
  private static List<Ev> evenly(Ev from, double stops, double largest) {
    List<Ev> exposures = new ArrayList<>();
    int count = (int) Math.ceil(Math.abs(stops) / largest);
    for (int i = 1; i <= count; i++) {
      exposures.add(new Ev(from.value() + stops * i / count));
    }
    return exposures;
  }
}
