package org.scenespan.plan;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Latitude;
import org.scenespan.light.Rounding;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * Which exposure of a bracket comes next: a pure function of the frames so far.
 *
 * <p>Highlights first: as long as the darkest frame clips more than the tolerance, the next frame
 * is as much darker as two reaches still join; short exposures cost almost no time, so the largest
 * step is right. Then shadows: the brightest frame shows its tail well below the asked
 * signal-to-noise, so the exposure that lifts the tail to it is computed, not groped for. Then any
 * hole between the two.
 *
 * @param goal what has to be reached
 * @param latitude what can be set
 * @param noise the sensor
 */
public record BracketPlan(BracketGoal goal, Latitude latitude, NoiseModel noise) {
  /** The first frame's distance under the meter, to see the highlights first. */
  static final Stops UNDER_METER = new Stops(2);

  /**
   * By how much the computed shadow frame is brightened: the tail was measured where noise and
   * quantisation blur it by about this much.
   */
  static final Stops TAIL_MARGIN = new Stops(0.2);

  public BracketPlan {
    if (!(widthFor(goal, latitude, noise).value() > goal.overlap().value())) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "overlap (%.2f stops) must be less than what one frame holds at signal-to-noise"
                  + " %.0f, %.2f stops",
              goal.overlap().value(),
              goal.snr(),
              widthFor(goal, latitude, noise).value()));
    }
  }

  private static Stops widthFor(BracketGoal goal, Latitude latitude, NoiseModel noise) {
    return noise.width(goal.snr(), latitude.darkest().iso());
  }

  /** The first exposure: the photographer's, or two stops under the meter. */
  public Decision first(Optional<Exposure> start, Optional<Ev> metered) {
    if (start.isPresent()) {
      return new Decision.Expose(start.get(), "You asked to start here.");
    }
    Ev meter =
        metered.orElseThrow(
            () -> new IllegalArgumentException("neither a start exposure nor a meter reading"));
    Exposure exposure = latitude.at(meter.plus(UNDER_METER), Rounding.NEAREST);
    return new Decision.Expose(
        exposure,
        String.format(
            Locale.ROOT,
            "The meter says %s; start two stops under it, to see the highlights first.",
            meter));
  }

  /**
   * What comes after some frames.
   *
   * @param frames at least one
   */
  public Decision next(List<Evidence> frames) {
    SpanEstimate span = SpanEstimate.of(goal, noise, frames);
    if (span.covered()) {
      return new Decision.Finish(
          Decision.Ending.COVERED,
          String.format(
              Locale.ROOT,
              "Every part of the span, %s to %s, lies in the reach of a frame.",
              span.low(),
              span.high()));
    }
    if (frames.size() >= goal.maxFrames()) {
      return new Decision.Finish(
          Decision.Ending.MOST_FRAMES,
          "The most frames you allowed ("
              + goal.maxFrames()
              + ") are taken; "
              + openWords(span)
              + " Allow more frames to go on.");
    }
    return darker(span, frames)
        .or(() -> brighter(span, frames))
        .or(() -> between(frames))
        .orElseGet(() -> atLimit(span));
  }

  private Optional<Decision> darker(SpanEstimate span, List<Evidence> frames) {
    if (span.openAbove().value() == 0) {
      return Optional.empty();
    }
    Evidence darkest = extreme(frames, true);
    Stops step = widthFor(goal, latitude, noise).minus(goal.overlap());
    Exposure exposure = latitude.at(darkest.ev().plus(step), Rounding.BRIGHTER);
    if (!isDarker(exposure, darkest)) {
      // The whole step rounds to nothing on this ladder, or the end is reached.
      exposure = latitude.at(darkest.ev().plus(Stops.THIRD), Rounding.DARKER);
    }
    if (!isDarker(exposure, darkest)) {
      return Optional.empty();
    }
    return Optional.of(
        new Decision.Expose(
            exposure,
            String.format(
                Locale.ROOT,
                "%s of the picture is too bright for every frame so far; go %.1f stops darker,"
                    + " as far as two frames still join.",
                percent(darkest.aboveReach()),
                exposure.ev().minus(darkest.ev()).value())));
  }

  private Optional<Decision> brighter(SpanEstimate span, List<Evidence> frames) {
    if (span.openBelow().value() == 0) {
      return Optional.empty();
    }
    Evidence brightest = extreme(frames, false);
    Stops largest = widthFor(goal, latitude, noise).minus(goal.overlap());
    Stops wanted = span.openBelow().plus(TAIL_MARGIN);
    boolean known = !span.lowIsGuess() && wanted.compareTo(largest) <= 0;
    Exposure exposure =
        known
            ? latitude.at(brightest.ev().minus(wanted), Rounding.BRIGHTER)
            : latitude.at(brightest.ev().minus(largest), Rounding.DARKER);
    if (!isBrighter(exposure, brightest)) {
      exposure = latitude.at(brightest.ev().minus(Stops.THIRD), Rounding.BRIGHTER);
    }
    if (!isBrighter(exposure, brightest)) {
      return Optional.empty();
    }
    double stops = brightest.ev().minus(exposure.ev()).value();
    String drowned = percent(brightest.belowReach(noise, goal.snr()));
    return Optional.of(
        new Decision.Expose(
            exposure,
            known
                ? String.format(
                    Locale.ROOT,
                    "%s of the picture is too dark for every frame so far; %.1f stops more lift"
                        + " its darkest part, %s, to signal-to-noise %.0f.",
                    drowned,
                    stops,
                    span.low(),
                    goal.snr())
                : String.format(
                    Locale.ROOT,
                    "%s of the picture is too dark for every frame so far, and its end cannot be"
                        + " told yet; go %.1f stops brighter, as far as two frames still join.",
                    drowned,
                    stops)));
  }

  private Optional<Decision> between(List<Evidence> frames) {
    for (SpanEstimate.Gap gap : SpanEstimate.Gap.between(goal, noise, frames)) {
      // The new reach sits in the middle of the hole, or just over its lower end if it is wider.
      Stops width = widthFor(goal, latitude, noise);
      double middle = (gap.low().value() + gap.high().value()) / 2;
      double highest =
          Math.min(
              middle + width.value() / 2,
              gap.low().value() - goal.overlap().value() + width.value());
      Ev reachHigh = new Ev(highest);
      Ev wanted = reachHigh.minus(NoiseModel.ceilingStops()).minus(MidGrey.BELOW_SATURATION);
      Exposure exposure = latitude.at(wanted, Rounding.NEAREST);
      boolean taken = frames.stream().anyMatch(f -> f.exposure().isSameSetting(exposure));
      if (!taken) {
        return Optional.of(
            new Decision.Expose(
                exposure,
                String.format(
                    Locale.ROOT,
                    "Between %s and %s no frame holds the picture; this one closes the hole.",
                    gap.low(),
                    gap.high())));
      }
    }
    return Optional.empty();
  }

  private Decision atLimit(SpanEstimate span) {
    StringBuilder why = new StringBuilder(openWords(span));
    if (span.openAbove().value() > 0) {
      why.append(
          " The darkest that can be set is "
              + latitude.darkest()
              + "; a neutral density filter, a smaller aperture or a shorter shutter would help,"
              + " or a higher clip tolerance if what clips may be let go.");
    }
    if (span.openBelow().value() > 0) {
      why.append(
          " The brightest that can be set is "
              + latitude.brightest()
              + "; a longer shutter, a higher ISO or a wider aperture would help.");
    }
    return new Decision.Finish(Decision.Ending.LIMIT, why.toString());
  }

  /** What is not covered, in words. */
  static String openWords(SpanEstimate span) {
    StringBuilder words = new StringBuilder();
    if (span.openAbove().value() > 0) {
      words.append(
          String.format(Locale.ROOT, "open above by about %.1f stops", span.openAbove().value()));
    }
    if (span.openBelow().value() > 0) {
      words.append(words.isEmpty() ? "" : ", ");
      words.append(
          String.format(
              Locale.ROOT,
              "open below by %s%.1f stops",
              span.lowIsGuess() ? "at least " : "",
              span.openBelow().value()));
    }
    if (span.gap().value() > 0) {
      words.append(words.isEmpty() ? "" : ", ");
      words.append(
          String.format(Locale.ROOT, "a hole of %.1f stops between frames", span.gap().value()));
    }
    words.setCharAt(0, Character.toUpperCase(words.charAt(0)));
    return words.append('.').toString();
  }

  private static Evidence extreme(List<Evidence> frames, boolean darkest) {
    Evidence found = frames.get(0);
    for (Evidence frame : frames) {
      if (frame.ev().isAbove(found.ev()) == darkest && !frame.ev().equals(found.ev())) {
        found = frame;
      }
    }
    return found;
  }

  /** At least half a click: anything less is the same frame again. */
  private static boolean isDarker(Exposure exposure, Evidence than) {
    return exposure.ev().minus(than.ev()).value() > 1.0 / 6;
  }

  private static boolean isBrighter(Exposure exposure, Evidence than) {
    return than.ev().minus(exposure.ev()).value() > 1.0 / 6;
  }

  private static String percent(Share share) {
    double percent = share.value() * 100;
    return percent >= 10
        ? String.format(Locale.ROOT, "%.0f %%", percent)
        : String.format(Locale.ROOT, "%.2g %%", percent).replace("e-0", "e-");
  }
}
