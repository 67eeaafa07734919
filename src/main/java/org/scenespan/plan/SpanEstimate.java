package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Ev;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * What is known of the scene's span after some frames, and what of it is not yet covered.
 *
 * @param low the scene's dark end at the shadow tolerance
 * @param high its bright end at the clip tolerance
 * @param lowIsGuess whether the dark end lies deeper than any frame can tell
 * @param highIsGuess whether the bright end is clipped in every frame
 * @param openAbove stops of the span above every frame's reach, 0 when none
 * @param openBelow stops of the span below every frame's reach, 0 when none
 * @param gap the widest hole between two neighbouring reaches within the span, stops, 0 when none
 * @param histogram the scene's light on the EV axis
 */
public record SpanEstimate(
    Ev low,
    Ev high,
    boolean lowIsGuess,
    boolean highIsGuess,
    Stops openAbove,
    Stops openBelow,
    Stops gap,
    SceneHistogram histogram) {
  /** An unknown end is guessed no nearer than a click and no farther than one frame's width. */
  private static final double NEAREST_GUESS_STOPS = 1.0 / 3;

  private static final double FARTHEST_GUESS_STOPS = 8;

  public boolean covered() {
    return openAbove.value() == 0 && openBelow.value() == 0 && gap.value() == 0;
  }

  /** What frames tell together; at least one of them. */
  public static SpanEstimate of(BracketGoal goal, NoiseModel noise, List<Evidence> frames) {
    if (frames.isEmpty()) {
      throw new IllegalArgumentException("a span is estimated from at least one frame");
    }
    Evidence darkest = frames.stream().max(Comparator.comparing(Evidence::ev)).orElseThrow();
    Evidence brightest = frames.stream().min(Comparator.comparing(Evidence::ev)).orElseThrow();

    Reach top = darkest.reach(noise, goal.snr());
    boolean clips = darkest.aboveReach().exceeds(goal.clipTolerance());
    Stops openAbove = clips ? guessAbove(darkest, goal.clipTolerance()) : Stops.ZERO;
    Ev high =
        clips
            ? top.high().plus(openAbove)
            : darkest.sceneEv(
                darkest.brightest().percentile(new Share(1 - goal.clipTolerance().value())));

    Reach bottom = brightest.reach(noise, goal.snr());
    boolean drowns = brightest.belowReach(noise, goal.snr()).exceeds(goal.shadowTolerance());
    Stops tail = brightest.luminance().percentile(goal.shadowTolerance());
    Stops deepest = brightest.seesDownTo(noise);
    boolean deeper = drowns && tail.compareTo(deepest) <= 0;
    Ev low = brightest.sceneEv(deeper ? deepest : tail);
    Stops openBelow =
        drowns
            ? new Stops(Math.max(NEAREST_GUESS_STOPS / 10, bottom.low().minus(low).value()))
            : Stops.ZERO;
    if (drowns) {
      low = bottom.low().minus(openBelow);
    }
    if (low.isAbove(high)) {
      low = high;
    }
    return new SpanEstimate(
        low,
        high,
        deeper,
        clips,
        openAbove,
        openBelow,
        widestGap(goal, noise, frames, low, high),
        SceneHistogram.of(frames));
  }

  /**
   * How far the clipped part may go on: the share of the picture falls off towards the bright end,
   * and the fall over the last stop below clipping is carried on until the tolerance is met. A
   * guess, and labelled as one.
   */
  private static Stops guessAbove(Evidence frame, Share tolerance) {
    double clipped = frame.aboveReach().value();
    double stopBelow =
        frame.brightest().shareAtOrAbove(NoiseModel.ceilingStops().minus(new Stops(1))).value();
    double wanted = Math.max(tolerance.value(), 1.0 / frame.brightest().total());
    double fall = Math.log(stopBelow / clipped);
    double stops = fall > 0 ? Math.log(clipped / wanted) / fall : FARTHEST_GUESS_STOPS;
    return new Stops(Math.max(NEAREST_GUESS_STOPS, Math.min(FARTHEST_GUESS_STOPS, stops)));
  }

  private static Stops widestGap(
      BracketGoal goal, NoiseModel noise, List<Evidence> frames, Ev low, Ev high) {
    double widest = 0;
    for (Gap gap : Gap.between(goal, noise, frames)) {
      double from = Math.max(gap.low().value(), low.value());
      double to = Math.min(gap.high().value(), high.value());
      widest = Math.max(widest, to - from);
    }
    return new Stops(widest < Gap.LEAST_STOPS ? 0 : widest);
  }

  /**
   * A hole between the reaches of two frames that are neighbours on the EV axis.
   *
   * @param low its lower end, the top of the brighter frame's reach
   * @param high its upper end, the bottom of the darker frame's reach
   */
  record Gap(Ev low, Ev high) {
    /** Reaches that miss each other by less than this do meet: rounding, not a hole. */
    static final double LEAST_STOPS = 0.01;

    static List<Gap> between(BracketGoal goal, NoiseModel noise, List<Evidence> frames) {
      List<Reach> reaches =
          frames.stream()
              .map(frame -> frame.reach(noise, goal.snr()))
              .sorted(Comparator.comparing(Reach::low))
              .toList();
      List<Gap> gaps = new ArrayList<>();
      Ev coveredUpTo = reaches.get(0).high();
      for (Reach reach : reaches) {
        if (reach.low().minus(coveredUpTo).value() > LEAST_STOPS) {
          gaps.add(new Gap(coveredUpTo, reach.low()));
        }
        coveredUpTo = reach.high().isAbove(coveredUpTo) ? reach.high() : coveredUpTo;
      }
      return gaps;
    }
  }
}
