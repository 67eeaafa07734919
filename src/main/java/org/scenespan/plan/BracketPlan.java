package org.scenespan.plan;

import java.time.Duration;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LogHistogram;
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
 * <p>The first frame stands where the prior on scenes asks for ({@link FirstFrame}). Then
 * highlights: as long as the darkest frame clips more than the tolerance, the next frame is as much
 * darker as two reaches still join; short exposures cost almost no time, so the largest step is
 * right. Then shadows: the brightest frame shows its tail well below the asked signal-to-noise, so
 * the exposure that lifts the tail to it is computed, not groped for. Then any hole between the
 * two.
 *
 * @param goal what has to be reached
 * @param latitude what can be set
 * @param noise the sensor
 * @param deepest stops under its clip point that a frame still tells
 */
public record BracketPlan(BracketGoal goal, Latitude latitude, NoiseModel noise, Stops deepest) {
  /** A raw frame's tail is pooled far below where a signal-to-noise of 1 ends. */
  private static final Stops SENSOR_DEEPEST = new Stops(30);

  /** Code 3 of 255 in sRGB, log2(3 / 255 / 12.92): below, a step is half the light [computed]. */
  private static final Stops EIGHT_BIT_DEEPEST = new Stops(10.1);

  /** By how much the computed shadow frame is brightened: what the tail's measurement may miss. */
  static final Stops TAIL_MARGIN = new Stops(0.05);

  /**
   * An 8-bit picture tells its tail to a code: around code 10, the floor of its own reach, a code
   * is 0.14 stop.
   */
  static final Stops EIGHT_BIT_TAIL_MARGIN = new Stops(0.15);

  /** Beyond a tail that is only guessed, in stops, so that one more frame surely tells it. */
  private static final Stops PAST_GUESS = new Stops(1);

  /** What a bin and what is left of noise may hide of the light at the edge of an empty stretch. */
  private static final double BIN_AND_NOISE_STOPS = 0.35;

  /** The share of scenes that a photographer who starts at one end wants held there at once. */
  private static final double MOST_SCENES = 0.9;

  /** A plan for frames with the sensor's own depth. */
  public BracketPlan(BracketGoal goal, Latitude latitude, NoiseModel noise) {
    this(goal, latitude, noise, SENSOR_DEEPEST);
  }

  /** The same plan for JPEGs. */
  public BracketPlan forEightBits() {
    return new BracketPlan(goal, latitude, noise, EIGHT_BIT_DEEPEST);
  }

  public BracketPlan {
    Stops width = widthFor(goal, latitude, noise);
    if (!(width.value() > goal.overlap().value())) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "overlap (%.2f stops) must be less than what one frame holds at signal-to-noise"
                  + " %.0f, %.2f stops",
              goal.overlap().value(),
              goal.snr(),
              width.value()));
    }
    if (goal.intent().steps().isPresent() && !(goal.intent().steps().get().compareTo(width) <= 0)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "even steps (%.2f stops) must be no more than what one frame holds at"
                  + " signal-to-noise %.0f, %.2f stops",
              goal.intent().steps().get().value(),
              goal.snr(),
              width.value()));
    }
  }

  private static Stops widthFor(BracketGoal goal, Latitude latitude, NoiseModel noise) {
    return noise.width(goal.snr(), latitude.darkest().iso());
  }

  Stops width() {
    return widthFor(goal, latitude, noise);
  }

  /** The step between neighbouring frames: the photographer's, or the largest that joins. */
  Stops step() {
    return goal.intent().steps().orElse(width().minus(goal.overlap()));
  }

  /** The first exposure: the photographer's, or where what is known puts it. */
  public Decision first(Optional<Exposure> start, Known known) {
    if (start.isPresent()) {
      return expose(
          start.get(), "You asked to start here.", "where the scene stands", Outlook.UNKNOWN);
    }
    if (known.earlier().isPresent()) {
      return fromEarlier(known.earlier().get());
    }
    Ev meter =
        known
            .metered()
            .orElseThrow(
                () -> new IllegalArgumentException("neither a start exposure nor a meter reading"));
    Stops clipPoint = clipPointOverMeter(known.sunInFrame());
    Exposure exposure = atClipPoint(meter.plus(clipPoint), Rounding.NEAREST);
    double off = exposure.ev().minus(meter).value();
    return expose(
        exposure,
        String.format(
            Locale.ROOT,
            "The meter says %s; start %.1f stops %s it, so that %s.",
            meter,
            Math.abs(off),
            off >= 0 ? "under" : "over",
            switch (goal.intent().order()) {
              case SHORTEST -> "the highlights are held first";
              case LONGEST -> "the shadows are held first";
              case PLANNED ->
                  known.sunInFrame()
                      ? "scenes with the sun in the frame need the fewest frames"
                      : "scenes of the usual kinds need the fewest frames";
            }),
        "how far the highlights go, and where the darkest part stands",
        Outlook.UNKNOWN);
  }

  private Stops clipPointOverMeter(boolean sunInFrame) {
    ScenePrior prior = ScenePrior.of(goal.intent().keep(), sunInFrame);
    return switch (goal.intent().order()) {
      case PLANNED -> FirstFrame.clipPointOverMeter(width(), goal.overlap(), prior, deepest);
      case SHORTEST -> new Stops(prior.highlights(MOST_SCENES));
      case LONGEST -> width().minus(new Stops(prior.shadows(MOST_SCENES)));
    };
  }

  /** The fewest frames hold the expected span with room to spare, which goes to its ends evenly. */
  private Decision fromEarlier(Known.EarlierSpan span) {
    double stops = span.high().minus(span.low()).value();
    double frames = Math.max(1, Math.ceil((stops - width().value()) / step().value() + 1));
    double room = width().value() + (frames - 1) * step().value() - stops;
    boolean shadowsFirst = goal.intent().order() == Intent.Order.LONGEST;
    // A click is lost to rounding; what is over is headroom, up to two stops.
    double spare = Math.max(0, Math.min(2, (room - 1.0 / 3) / 2));
    Ev clipPoint =
        shadowsFirst
            ? span.low().plus(width()).minus(new Stops(Math.min(spare, 0.15)))
            : span.high().plus(new Stops(spare));
    Exposure exposure =
        atClipPoint(
            clipPoint,
            shadowsFirst
                ? Rounding.BRIGHTER
                : spare < Stops.THIRD.value() / 2 ? Rounding.DARKER : Rounding.NEAREST);
    return expose(
        exposure,
        String.format(
            Locale.ROOT,
            "By %s the scene spans %s to %s: %.0f frame%s; start with its %s end.",
            span.source(),
            span.low(),
            span.high(),
            frames,
            frames == 1 ? "" : "s",
            shadowsFirst ? "dark" : "bright"),
        "whether the scene is as it was",
        new Outlook((int) frames, frames == 1 ? 0 : exposure.shutter().seconds()));
  }

  private Exposure atClipPoint(Ev clipPoint, Rounding rounding) {
    Ev wanted = clipPoint.minus(NoiseModel.ceilingStops()).minus(MidGrey.BELOW_SATURATION);
    return latitude.at(wanted, rounding);
  }

  /**
   * What comes after some frames.
   *
   * @param frames at least one
   * @param overhead what a frame was measured to cost beyond its exposure; absent if unknown
   * @param known what was known of the scene before
   */
  public Decision next(List<Evidence> frames, Optional<Duration> overhead, Known known) {
    SpanEstimate span = SpanEstimate.of(goal, noise, frames).expecting(known.earlier());
    Turnout turnout = new Turnout(span, frames, overhead);
    if (span.covered()) {
      Optional<Decision> more =
          frames.size() < goal.maxFrames()
              ? Extras.next(goal, latitude, noise, span, frames)
              : Optional.empty();
      return more.orElseGet(
          () ->
              new Decision.Finish(
                  Decision.Ending.COVERED,
                  String.format(
                      Locale.ROOT,
                      "Every part of the span, %s to %s, lies in the reach of a frame.",
                      span.low(),
                      span.high())));
    }
    if (frames.size() >= goal.maxFrames()) {
      return new Decision.Finish(
          Decision.Ending.MOST_FRAMES,
          "The most frames you allowed ("
              + goal.maxFrames()
              + ") are taken; "
              + OpenWords.of(span)
              + " Allow more frames to go on.");
    }
    boolean shadowsFirst = goal.intent().order() == Intent.Order.LONGEST;
    return (shadowsFirst ? brighter(turnout) : darker(turnout))
        .or(() -> shadowsFirst ? darker(turnout) : brighter(turnout))
        .or(() -> between(turnout))
        .orElseGet(() -> OpenWords.atLimit(span, latitude));
  }

  /** What is at hand for one decision. */
  private record Turnout(SpanEstimate span, List<Evidence> frames, Optional<Duration> overhead) {
    Evidence darkest() {
      return frames.stream().max(Comparator.comparing(Evidence::ev)).orElseThrow();
    }

    Evidence brightest() {
      return frames.stream().min(Comparator.comparing(Evidence::ev)).orElseThrow();
    }
  }

  private Optional<Decision> darker(Turnout turnout) {
    if (turnout.span.openAbove().value() == 0) {
      return Optional.empty();
    }
    Evidence darkest = turnout.darkest();
    Stops seam = Seam.overlap(darkest, goal);
    Stops step =
        goal.intent().steps().isPresent() || seam.compareTo(goal.overlap()) <= 0
            ? step()
            : width().minus(seam);
    Exposure exposure = latitude.at(darkest.ev().plus(step), Rounding.BRIGHTER);
    if (!isDarker(exposure, darkest)) {
      // The whole step rounds to nothing on this ladder, or the end is reached.
      exposure = latitude.at(darkest.ev().plus(Stops.THIRD), Rounding.DARKER);
    }
    if (!isDarker(exposure, darkest)) {
      return Optional.empty();
    }
    return Optional.of(
        expose(
            exposure,
            String.format(
                Locale.ROOT,
                "%s of the picture is too bright for every frame so far; go %.1f stops darker%s",
                percent(darkest.aboveReach(goal.intent().letGoArea())),
                exposure.ev().minus(darkest.ev()).value(),
                joinWords()),
            "how far the highlights go",
            outlook(turnout)));
  }

  private String joinWords() {
    return goal.intent().steps().isPresent()
        ? ", an even step."
        : ", as far as two frames still join.";
  }

  private Optional<Decision> brighter(Turnout turnout) {
    SpanEstimate span = turnout.span;
    if (span.openBelow().value() == 0) {
      return Optional.empty();
    }
    Evidence brightest = turnout.brightest();
    boolean even = goal.intent().steps().isPresent();
    Stops wanted = span.openBelow().plus(margin(brightest));
    Stops largest = even ? step() : joining(wanted, span).plus(emptyBelow(brightest));
    boolean told = !even && !span.lowIsGuess() && wanted.compareTo(largest) <= 0;
    Stops step = told ? wanted : even ? largest : leastTime(turnout, largest);
    Exposure exposure =
        latitude.at(
            brightest.ev().minus(step),
            told && !losesTheJoin(brightest, wanted, largest, span)
                ? Rounding.BRIGHTER
                : Rounding.DARKER);
    if (!isBrighter(exposure, brightest)) {
      exposure = latitude.at(brightest.ev().minus(Stops.THIRD), Rounding.BRIGHTER);
    }
    if (!isBrighter(exposure, brightest)) {
      return Optional.empty();
    }
    double stops = brightest.ev().minus(exposure.ev()).value();
    String drowned = percent(brightest.belowReach(noise, goal.snr()));
    return Optional.of(
        expose(
            exposure,
            told
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
                    "%s of the picture is too dark for every frame so far%s; go %.1f stops"
                        + " brighter%s",
                    drowned,
                    span.lowIsGuess() ? ", and its end cannot be told yet" : "",
                    stops,
                    joinWords()),
            told ? "that the shadows hold" : "how deep the shadows go",
            outlook(turnout)));
  }

  /** The step that joins; towards a tail that is told without overlap, where that saves a frame. */
  private Stops joining(Stops wanted, SpanEstimate span) {
    double whole = width().value() - SpanEstimate.Gap.LEAST_STOPS;
    boolean saves =
        !span.lowIsGuess()
            && Math.ceil(wanted.value() / whole) < Math.ceil(wanted.value() / step().value());
    return saves ? new Stops(whole) : step();
  }

  /**
   * Whether the click beyond leaves a hole where the click before leaves no more than is let go.
   */
  private boolean losesTheJoin(Evidence brightest, Stops wanted, Stops largest, SpanEstimate span) {
    Ev ev = brightest.ev();
    double beyond = ev.minus(latitude.at(ev.minus(wanted), Rounding.BRIGHTER).ev()).value();
    double before = ev.minus(latitude.at(ev.minus(wanted), Rounding.DARKER).ev()).value();
    double joins = Math.max(largest.value(), width().value());
    return beyond > joins && span.openBelow().value() - before <= SpanEstimate.TELLS_APART_STOPS;
  }

  private Stops margin(Evidence brightest) {
    return brightest.source() == FrameSource.RAW ? TAIL_MARGIN : EIGHT_BIT_TAIL_MARGIN;
  }

  /**
   * Towards a tail that is only guessed the largest step may overshoot by many stops, and the
   * exposure grows with it: where that would cost more than one more frame, the step ends a little
   * beyond the guess.
   */
  private Stops leastTime(Turnout turnout, Stops largest) {
    Stops careful = turnout.span.openBelow().plus(PAST_GUESS);
    if (!turnout.span.lowIsGuess() || careful.compareTo(largest) >= 0) {
      return largest;
    }
    Ev from = turnout.brightest().ev();
    double longTime = latitude.at(from.minus(largest), Rounding.DARKER).shutter().seconds();
    double shortTime = latitude.at(from.minus(careful), Rounding.DARKER).shutter().seconds();
    double frame = turnout.overhead.map(time -> time.toMillis() / 1000.0).orElse(0.0);
    return longTime - 2 * shortTime > frame ? careful : largest;
  }

  /** How far below the brightest frame's reach the scene has no light: a step may leap over it. */
  private Stops emptyBelow(Evidence brightest) {
    if (brightest.source() != FrameSource.RAW) {
      return Stops.ZERO;
    }
    Stops floor = noise.floorStops(goal.snr(), brightest.exposure().iso());
    double empty =
        Math.min(
            emptyBelow(brightest.light(noise), floor), emptyBelow(brightest.brightest(), floor));
    return new Stops(Math.max(0, empty - BIN_AND_NOISE_STOPS));
  }

  private static double emptyBelow(LogHistogram light, Stops floor) {
    double below = light.shareBelow(floor).value();
    Share rest = new Share(Math.max(0, below - SpanEstimate.Gap.EMPTY_SHARE));
    return floor.minus(light.percentile(rest)).value();
  }

  private Optional<Decision> between(Turnout turnout) {
    for (SpanEstimate.Gap gap : SpanEstimate.Gap.between(goal, noise, turnout.frames)) {
      // The new reach sits in the middle of the hole, or just over its lower end if it is wider.
      double middle = (gap.low().value() + gap.high().value()) / 2;
      double highest =
          Math.min(
              middle + width().value() / 2,
              gap.low().value() - goal.overlap().value() + width().value());
      Exposure exposure = atClipPoint(new Ev(highest), Rounding.NEAREST);
      boolean taken = turnout.frames.stream().anyMatch(f -> f.exposure().isSameSetting(exposure));
      if (!taken) {
        return Optional.of(
            expose(
                exposure,
                String.format(
                    Locale.ROOT,
                    "Between %s and %s no frame holds the picture; this one closes the hole.",
                    gap.low(),
                    gap.high()),
                "that no hole is left",
                outlook(turnout)));
      }
    }
    return Optional.empty();
  }

  /** How many frames and seconds of exposure are to come, as far as the span can be told. */
  private record Outlook(int frames, double seconds) {
    static final Outlook UNKNOWN = new Outlook(1, 0);
  }

  private Outlook outlook(Turnout turnout) {
    double step = step().value();
    SpanEstimate span = turnout.span;
    int above = (int) Math.ceil(span.openAbove().value() / step);
    int below = (int) Math.ceil(span.openBelow().value() / step);
    int between = span.gap().value() > 0 ? 1 : 0;
    Ev longest = turnout.brightest().ev().minus(span.openBelow());
    double seconds = below == 0 ? 0 : latitude.at(longest, Rounding.BRIGHTER).shutter().seconds();
    return new Outlook(Math.max(1, above + below + between), seconds);
  }

  private static Decision expose(Exposure exposure, String why, String settles, Outlook outlook) {
    double seconds = Math.max(outlook.seconds, exposure.shutter().seconds());
    return new Decision.Expose(exposure, why, settles, outlook.frames, seconds);
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
