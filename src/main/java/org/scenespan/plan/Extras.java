package org.scenespan.plan;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Exposure;
import org.scenespan.light.Latitude;
import org.scenespan.light.Rounding;

/** What is taken once a scene is covered: copies for less noise, and a frame for what moves. */
final class Extras {
  private Extras() {}

  static Optional<Decision> next(
      BracketGoal goal,
      Latitude latitude,
      NoiseModel noise,
      SpanEstimate span,
      List<Evidence> frames) {
    Intent intent = goal.intent();
    List<Evidence> set = CoverSet.of(goal, noise, frames);
    for (Evidence frame : set) {
      long taken = count(frames, frame.exposure());
      if (taken < intent.copies()) {
        return Optional.of(
            expose(
                frame.exposure(),
                "The scene is covered; copy "
                    + (taken + 1)
                    + " of "
                    + intent.copies()
                    + " of this frame, to be averaged for less noise.",
                "less noise"));
      }
    }
    if (!intent.extraForMotion()) {
      return Optional.empty();
    }
    Optional<Reach> moved = moved(frames);
    Evidence holdsMost =
        set.stream()
            .max(
                Comparator.<Evidence>comparingDouble(
                        frame ->
                            moved.isPresent()
                                ? common(frame.reach(noise, goal.snr()), moved.get())
                                : held(frame, goal, noise, span))
                    .thenComparing(Evidence::ev))
            .orElseThrow();
    Exposure exposure = quicker(holdsMost.exposure(), latitude);
    long wanted = exposure.equals(holdsMost.exposure()) ? intent.copies() + 1 : 1;
    return count(frames, exposure) >= wanted
        ? Optional.empty()
        : Optional.of(
            expose(
                exposure,
                moved
                    .map(
                        parts ->
                            "The scene is covered; one more of the frame that holds best what"
                                + " moved, "
                                + parts.low()
                                + " to "
                                + parts.high()
                                + ".")
                    .orElse(
                        "The scene is covered; one more of the frame that holds the most of it,"
                            + " for what moves."),
                "a single moment of what moves"));
  }

  /** Where anything lies that was seen to move. */
  private static Optional<Reach> moved(List<Evidence> frames) {
    return frames.stream()
        .flatMap(frame -> frame.moved().stream())
        .reduce(
            (one, other) ->
                new Reach(
                    one.low().isAbove(other.low()) ? other.low() : one.low(),
                    one.high().isAbove(other.high()) ? one.high() : other.high()));
  }

  /** Stops that two windows have in common; negative for those that lie apart. */
  private static double common(Reach one, Reach other) {
    double low = Math.max(one.low().value(), other.low().value());
    double high = Math.min(one.high().value(), other.high().value());
    return high - low;
  }

  private static double held(
      Evidence frame, BracketGoal goal, NoiseModel noise, SpanEstimate span) {
    Reach reach = frame.reach(noise, goal.snr());
    return span.histogram().shareBetween(reach.low(), reach.high());
  }

  /** The same light in a shorter time where ISO may be raised. */
  private static Exposure quicker(Exposure exposure, Latitude latitude) {
    Exposure fast = exposure.withIso(latitude.brightest().iso());
    double gained = exposure.ev().minus(fast.ev()).value();
    Exposure darkened =
        latitude.at(exposure.ev().plus(exposure.ev().minus(fast.ev())), Rounding.NEAREST);
    return gained > 0.1 && darkened.iso().equals(exposure.iso())
        ? fast.withShutter(darkened.shutter())
        : exposure;
  }

  private static long count(List<Evidence> frames, Exposure exposure) {
    return frames.stream().filter(frame -> frame.exposure().isSameSetting(exposure)).count();
  }

  private static Decision expose(Exposure exposure, String why, String settles) {
    return new Decision.Expose(exposure, why, settles, 1, exposure.shutter().seconds());
  }
}
