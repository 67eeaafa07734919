package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.LogHistogram;
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
 * @param gap the widest hole with light in it between two neighbouring reaches, stops, 0 when none
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
  /**
   * A tail that misses a reach by less than this does not miss it: what is left of noise and of a
   * bin's width in the measurement, and within the margin by which frames are placed.
   */
  static final double TELLS_APART_STOPS = 0.1;

  /** An unknown end is guessed no nearer than a click and no farther than one frame's width. */
  private static final double NEAREST_GUESS_STOPS = 1.0 / 3;

  private static final double FARTHEST_GUESS_STOPS = 8;

  public boolean covered() {
    return openAbove.value() == 0 && openBelow.value() == 0 && gap.value() == 0;
  }

  /** The same where the dark end cannot be told yet, with what is expected of it. */
  SpanEstimate expecting(Optional<Known.EarlierSpan> earlier) {
    if (!lowIsGuess || earlier.isEmpty()) {
      return this;
    }
    Ev floor = low.plus(openBelow);
    double missing = floor.minus(earlier.get().low()).value();
    return new SpanEstimate(
        earlier.get().low().isAbove(low) ? low : earlier.get().low(),
        high,
        false,
        highIsGuess,
        openAbove,
        new Stops(Math.max(openBelow.value(), missing)),
        gap,
        histogram);
  }

  /** What frames tell together; at least one of them. */
  public static SpanEstimate of(BracketGoal goal, NoiseModel noise, List<Evidence> frames) {
    if (frames.isEmpty()) {
      throw new IllegalArgumentException("a span is estimated from at least one frame");
    }
    Evidence darkest = frames.stream().max(Comparator.comparing(Evidence::ev)).orElseThrow();
    Evidence brightest = frames.stream().min(Comparator.comparing(Evidence::ev)).orElseThrow();

    Reach top = darkest.reach(noise, goal.snr());
    Share letGo = goal.brightShareToLetGo();
    Share clipped = darkest.aboveReach(goal.intent().letGoArea());
    boolean clips = clipped.exceeds(letGo);
    Stops openAbove = clips ? guessAbove(darkest, clipped, letGo) : Stops.ZERO;
    Ev high =
        clips
            ? top.high().plus(openAbove)
            : darkest.sceneEv(darkest.brightest().percentile(new Share(1 - letGo.value())));

    Reach bottom = brightest.reach(noise, goal.snr());
    LogHistogram light = brightest.light(noise);
    Stops tail = ToneSlope.darkened(light.percentile(goal.darkShareToLetGo()), frames);
    Stops deepest = brightest.seesDownTo(noise);
    boolean deeper = tail.compareTo(deepest) <= 0;
    Ev low = brightest.sceneEv(deeper ? deepest : tail);
    double missing = bottom.low().minus(low).value();
    boolean drowns = missing > TELLS_APART_STOPS;
    if (low.isAbove(high)) {
      low = high;
    }
    List<Gap> holes = Gap.between(goal, noise, frames);
    return new SpanEstimate(
        low,
        high,
        drowns && deeper,
        clips,
        openAbove,
        drowns ? new Stops(missing) : Stops.ZERO,
        widest(holes),
        scene(frames, brightest, light));
  }

  /** The scene's light; the darkest part, where noise tells, without the noise. */
  private static SceneHistogram scene(
      List<Evidence> frames, Evidence brightest, LogHistogram light) {
    return SceneHistogram.of(frames, frame -> frame == brightest ? light : frame.luminance());
  }

  /**
   * How far the clipped part may go on: the share of the picture falls off towards the bright end,
   * and the fall over the last stop below clipping is carried on until the tolerance is met. A
   * guess, and labelled as one.
   */
  private static Stops guessAbove(Evidence frame, Share clipped, Share tolerance) {
    double stopBelow =
        frame.brightest().shareAtOrAbove(NoiseModel.ceilingStops().minus(new Stops(1))).value();
    double wanted = Math.max(tolerance.value(), 1.0 / frame.brightest().total());
    double fall = Math.log(stopBelow / clipped.value());
    double stops = fall > 0 ? Math.log(clipped.value() / wanted) / fall : FARTHEST_GUESS_STOPS;
    return new Stops(Math.max(NEAREST_GUESS_STOPS, Math.min(FARTHEST_GUESS_STOPS, stops)));
  }

  private static Stops widest(List<Gap> holes) {
    double widest = 0;
    for (Gap gap : holes) {
      widest = Math.max(widest, gap.high().minus(gap.low()).value());
    }
    return new Stops(widest);
  }

  /**
   * A hole with light in it between the reaches of two frames that are neighbours on the EV axis.
   *
   * @param low its lower end, the top of the brighter frame's reach
   * @param high its upper end, the bottom of the darker frame's reach
   */
  record Gap(Ev low, Ev high) {
    /** Reaches that miss each other by less than this do meet: rounding, not a hole. */
    static final double LEAST_STOPS = 0.01;

    /** A hole with less of the picture in it needs no frame. */
    static final double EMPTY_SHARE = 0.0001;

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
          Gap gap = new Gap(coveredUpTo, reach.low());
          if (gap.holdsLight(frames)) {
            gaps.add(gap);
          }
        }
        coveredUpTo = reach.high().isAbove(coveredUpTo) ? reach.high() : coveredUpTo;
      }
      return gaps;
    }

    private boolean holdsLight(List<Evidence> frames) {
      return SceneHistogram.of(frames, Evidence::luminance).shareBetween(low, high) > EMPTY_SHARE
          || SceneHistogram.of(frames, Evidence::brightest).shareBetween(low, high) > EMPTY_SHARE;
    }
  }
}
