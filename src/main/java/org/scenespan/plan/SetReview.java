package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Rounding;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;

/**
 * What a set that is already shot has lost of its scene, and what it would have taken.
 *
 * @param span what the frames tell of the scene
 * @param losses from bright to dark; empty where the scene is covered
 * @param missing the exposures that would have covered it, from the darkest to the brightest; where
 *     an end is only guessed, as many as close the guess
 * @param needless which frames, by their place, add nothing to the cover
 */
public record SetReview(
    SpanEstimate span, List<Loss> losses, List<Missing> missing, List<Integer> needless) {
  /** The times that cameras commonly set; a set's own frames may widen them. */
  private static final Shutter SHORTEST = Shutter.parse("1/8000");

  private static final Shutter LONGEST = Shutter.parse("30s");

  /** By how much rounding to the ladder may move an exposure. */
  private static final double HALF_CLICK = 1.0 / 6;

  /** What the measurement of a dark tail may miss, in eight bits. */
  private static final double TAIL_STOPS = BracketPlan.EIGHT_BIT_TAIL_MARGIN.value();

  /** A part of the span that lies in no frame's reach. */
  public enum Where {
    /** Clipped in every frame. */
    ABOVE("above"),
    /** Clipped in one frame and below the asked signal-to-noise in the next. */
    BETWEEN("between"),
    /** Below the asked signal-to-noise in every frame. */
    BELOW("below");

    private final String label;

    Where(String label) {
      this.label = label;
    }

    /** The word for it. */
    public String label() {
      return label;
    }
  }

  /**
   * @param low its dark end
   * @param high its bright end
   * @param share of the picture in it
   * @param guess whether its far end is only guessed: no frame tells it
   */
  public record Loss(Where where, Ev low, Ev high, Share share, boolean guess) {
    public Stops stops() {
      return high.minus(low);
    }
  }

  /**
   * @param exposure the nearest that cameras commonly set at the set's aperture and ISO
   * @param beyond by how much the one that is missing lies beyond it: above 0 where it is darker,
   *     below 0 where it is brighter
   */
  public record Missing(Exposure exposure, Stops beyond) {}

  public SetReview {
    losses = List.copyOf(losses);
    missing = List.copyOf(missing);
    needless = List.copyOf(needless);
  }

  /**
   * @param frames at least one
   */
  public static SetReview of(BracketGoal goal, NoiseModel noise, List<Evidence> frames) {
    SpanEstimate span = SpanEstimate.of(goal, noise, frames);
    List<SpanEstimate.Gap> gaps = SpanEstimate.Gap.between(goal, noise, frames);
    return new SetReview(
        span,
        losses(goal, noise, frames, span, gaps),
        missing(goal, noise, frames, span, gaps),
        needless(goal, noise, frames));
  }

  public boolean isCovered() {
    return losses.isEmpty();
  }

  private static Evidence darkest(List<Evidence> frames) {
    return frames.stream().max(Comparator.comparing(Evidence::ev)).orElseThrow();
  }

  private static Evidence brightest(List<Evidence> frames) {
    return frames.stream().min(Comparator.comparing(Evidence::ev)).orElseThrow();
  }

  private static List<Loss> losses(
      BracketGoal goal,
      NoiseModel noise,
      List<Evidence> frames,
      SpanEstimate span,
      List<SpanEstimate.Gap> gaps) {
    List<Loss> losses = new ArrayList<>();
    if (span.openAbove().value() > 0) {
      Ev top = darkest(frames).reach(noise, goal.snr()).high();
      losses.add(
          new Loss(
              Where.ABOVE,
              top,
              top.plus(span.openAbove()),
              darkest(frames).aboveReach(goal.intent().letGoArea()),
              span.highIsGuess()));
    }
    for (int i = gaps.size() - 1; i >= 0; i--) {
      SpanEstimate.Gap gap = gaps.get(i);
      SceneHistogram scene = SceneHistogram.of(frames, Evidence::luminance);
      losses.add(
          new Loss(
              Where.BETWEEN,
              gap.low(),
              gap.high(),
              new Share(Math.min(1, scene.shareBetween(gap.low(), gap.high()))),
              false));
    }
    if (span.openBelow().value() > 0) {
      Ev floor = brightest(frames).reach(noise, goal.snr()).low();
      losses.add(
          new Loss(
              Where.BELOW,
              floor.minus(span.openBelow()),
              floor,
              brightest(frames).belowReach(noise, goal.snr()),
              span.lowIsGuess()));
    }
    return losses;
  }

  private static List<Missing> missing(
      BracketGoal goal,
      NoiseModel noise,
      List<Evidence> frames,
      SpanEstimate span,
      List<SpanEstimate.Gap> gaps) {
    double width = noise.width(goal.snr(), darkest(frames).exposure().iso()).value();
    // Both neighbours may be rounded away from each other and must still join.
    double step = Math.max(HALF_CLICK, width - goal.overlap().value() - 2 * HALF_CLICK);
    List<Ev> wanted = new ArrayList<>();
    Ev dark = darkest(frames).ev();
    if (span.openAbove().value() > 0) {
      double above = span.openAbove().value() + HALF_CLICK;
      wanted.addAll(
          span.highIsGuess() ? oneStep(dark, above, 1, step) : beyond(dark, above, 1, step));
    }
    for (SpanEstimate.Gap gap : gaps) {
      double below = gap.low().minus(NoiseModel.ceilingStops()).value();
      double stops = gap.high().minus(gap.low()).value() + width;
      Ev from = new Ev(below).minus(MidGrey.BELOW_SATURATION);
      int steps = (int) Math.ceil(stops / step);
      for (int i = 1; i < steps; i++) {
        wanted.add(new Ev(from.value() + stops * i / steps));
      }
    }
    if (span.openBelow().value() > 0) {
      double below = span.openBelow().value() + HALF_CLICK + TAIL_STOPS;
      Ev bright = brightest(frames).ev();
      wanted.addAll(
          span.lowIsGuess() ? oneStep(bright, below, -1, step) : beyond(bright, below, -1, step));
    }
    wanted.sort(Comparator.reverseOrder());
    return settable(wanted, frames, span);
  }

  /** From an exposure on in even steps. */
  private static List<Ev> beyond(Ev from, double stops, int sign, double step) {
    List<Ev> wanted = new ArrayList<>();
    int count = (int) Math.ceil(stops / step);
    for (int i = 1; i <= count; i++) {
      wanted.add(new Ev(from.value() + sign * stops * i / count));
    }
    return wanted;
  }

  /** Towards an end that is only guessed: what that frame had shown would have told the next. */
  private static List<Ev> oneStep(Ev from, double stops, int sign, double step) {
    return List.of(new Ev(from.value() + sign * Math.min(stops, step)));
  }

  /** At the aperture and ISO of the frame that lies nearest. */
  private static List<Missing> settable(List<Ev> wanted, List<Evidence> frames, SpanEstimate span) {
    List<Missing> missing = new ArrayList<>();
    for (Ev ev : wanted) {
      Evidence nearest =
          frames.stream()
              .min(Comparator.comparingDouble(it -> Math.abs(it.ev().minus(ev).value())))
              .orElseThrow();
      // In the light of its own moment, where the light has changed since.
      Ev asTaken = ev.minus(nearest.brighterSince());
      Latitude latitude = latitude(nearest.exposure());
      Exposure exposure = latitude.at(asTaken, Rounding.NEAREST);
      double off = asTaken.minus(exposure.ev()).value();
      boolean guess = off > 0 ? span.highIsGuess() : span.lowIsGuess();
      boolean goesOn = Math.abs(exposure.ev().minus(nearest.exposure().ev()).value()) > HALF_CLICK;
      Missing one =
          new Missing(
              exposure,
              Math.abs(off) > HALF_CLICK + 1e-6 && !(guess && goesOn)
                  ? new Stops(off)
                  : Stops.ZERO);
      Missing last = missing.isEmpty() ? null : missing.get(missing.size() - 1);
      if (last != null && last.exposure.isSameSetting(exposure)) {
        missing.set(
            missing.size() - 1,
            Math.abs(last.beyond.value()) > Math.abs(one.beyond.value()) ? last : one);
      } else {
        missing.add(one);
      }
    }
    return missing;
  }

  private static Latitude latitude(Exposure like) {
    Shutter own = like.shutter();
    Shutter shortest = own.compareTo(SHORTEST) < 0 ? own : SHORTEST;
    Shutter longest = own.compareTo(LONGEST) > 0 ? own : LONGEST;
    CameraRange range =
        new CameraRange(
            ShutterLadder.thirds(shortest, longest),
            like.iso(),
            like.iso(),
            like.aperture(),
            like.aperture());
    return Latitude.of(range, PictureLimits.at(like.aperture()));
  }

  private static List<Integer> needless(BracketGoal goal, NoiseModel noise, List<Evidence> frames) {
    List<Evidence> needed = new ArrayList<>(CoverSet.of(goal, noise, frames));
    List<Integer> needless = new ArrayList<>();
    for (int i = 0; i < frames.size(); i++) {
      if (!needed.remove(frames.get(i))) {
        needless.add(i);
      }
    }
    return needless;
  }
}
