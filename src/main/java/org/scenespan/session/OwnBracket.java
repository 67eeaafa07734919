package org.scenespan.session;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;
import org.scenespan.plan.Closing;
import org.scenespan.plan.Decision;
import org.scenespan.plan.SpanEstimate;

/**
 * A bracket whose camera keeps its own exposure, or brackets by itself: it is released as long as
 * something of the scene is open and what comes is new, and told what would close the rest.
 */
final class OwnBracket {
  /** Exposure compensation is set in thirds. */
  private static final double CLICKS_A_STOP = 3;

  /** How far exposure compensation usually goes [practice]. */
  private static final double USUAL_STOPS = 5;

  private OwnBracket() {}

  /** Whether no further release is wanted; of a state with frames and an estimate of the span. */
  static Optional<Decision.Finish> end(State state) {
    BracketSetup setup = state.bracket();
    SpanEstimate span = state.span().orElseThrow();
    int most = setup.goal().maxFrames();
    if (span.covered()) {
      return Optional.of(
          new Decision.Finish(
              Decision.Ending.COVERED,
              String.format(
                  Locale.ROOT,
                  "Every part of the span, %s to %s, lies in the reach of a frame.",
                  span.low(),
                  span.high())));
    }
    if (state.frames().size() + setup.gear().framesPerRelease() > most) {
      return Optional.of(
          new Decision.Finish(
              Decision.Ending.MOST_FRAMES,
              String.format(
                  Locale.ROOT,
                  "%d frames are taken, and another release would bring more than you allowed (%d)."
                      + " %s %s",
                  state.frames().size(),
                  most,
                  Closing.open(span),
                  closing(state, span))));
    }
    boolean through = isBracketThrough(state);
    return through || isDry(state)
        ? Optional.of(
            new Decision.Finish(
                Decision.Ending.LIMIT,
                (through
                        ? "The camera's own bracket is through. "
                        : "The camera's own exposures brought nothing new. ")
                    + Closing.open(span)
                    + " "
                    + closing(state, span)))
        : Optional.empty();
  }

  /** Whether one release brought the whole of a camera's own bracket: the next would repeat it. */
  private static boolean isBracketThrough(State state) {
    return state.opened().gear().framesPerRelease() > 1
        && state.shots().stream().anyMatch(shot -> shot.standing() == Shot.Standing.TAKEN);
  }

  /** Whether the latest releases brought nothing new, one more of them than were lost. */
  private static boolean isDry(State state) {
    List<Shot> shots = state.shots();
    long lost =
        shots.stream()
            .filter(shot -> shot.standing() == Shot.Standing.LOST && shot.frames() == 0)
            .count();
    int dry = 0;
    for (int i = shots.size() - 1; i >= 0 && dry <= lost; i--) {
      if (shots.get(i).frames() > 0) {
        if (isNews(state, shots.get(i).number())) {
          return false;
        }
        dry++;
      }
    }
    return dry > lost;
  }

  /** Whether a frame of a release has an exposure that none of an earlier one has. */
  private static boolean isNews(State state, int shot) {
    return state.frames().stream()
        .filter(frame -> frame.shot() == shot)
        .anyMatch(
            frame ->
                state.frames().stream()
                    .filter(earlier -> earlier.shot() < shot)
                    .noneMatch(earlier -> earlier.exposure().isSameSetting(frame.exposure())));
  }

  /** What would close it, against the camera's own exposure. */
  private static String closing(State state, SpanEstimate span) {
    Ev own = own(state);
    List<Ev> exposures = Closing.exposures(state.bracket().plan(), span, state.evidence());
    String all =
        exposures.stream()
            .map(wanted -> compensation(own.minus(wanted)))
            .distinct()
            .collect(Collectors.joining(" and "));
    boolean far = exposures.stream().anyMatch(it -> Math.abs(own.minus(it).value()) > USUAL_STOPS);
    return "Exposure compensation "
        + all
        + (far
            ? " would close it, farther than most cameras go: set the exposure by hand, and start"
                + " again."
            : " would close it: set it, or a wider bracket of the camera's own, and start again.");
  }

  /** Without its compensation, the exposure that the camera chose first. */
  private static Ev own(State state) {
    Event.FrameAccepted first = state.frames().get(0);
    Stops compensation = first.frame().metadata().compensation().orElse(Stops.ZERO);
    return first.exposure().ev().plus(compensation);
  }

  /** Away from zero to the next click. */
  private static String compensation(Stops wanted) {
    double clicks = Math.abs(wanted.value()) * CLICKS_A_STOP;
    double set = Math.ceil(clicks - 0.05) / CLICKS_A_STOP;
    return String.format(Locale.ROOT, "%s%.1f", wanted.value() < 0 ? "-" : "+", set);
  }

  /** The next release, with what is awaited of it. */
  static Event.ShotPlanned planned(State state, int attempt) {
    int frames = state.bracket().gear().framesPerRelease();
    String again =
        attempt > 1 ? "Release " + state.shots().size() + " brought no frame; once more. " : "";
    String why =
        state
            .span()
            .map(span -> Closing.open(span) + " The camera may bring another exposure.")
            .orElse("The camera keeps its own exposure; see what it brings.");
    return new Event.ShotPlanned(
        state.shots().size() + 1,
        attempt,
        Optional.empty(),
        again + why,
        "what the camera's own exposure holds",
        frames,
        Optional.empty());
  }

  /** Why a shot is given up, of any camera. */
  static String lostWords(State state, Shot shot) {
    int expected = state.opened().gear().framesPerRelease();
    return shot.frames() == 0
        ? "no frame of it came in time"
        : String.format(
            Locale.ROOT, "only %d of its %d frames came in time", shot.frames(), expected);
  }
}
