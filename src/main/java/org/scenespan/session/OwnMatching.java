package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;

/**
 * Which release a frame belongs to where the camera keeps its own exposure: settings tell nothing,
 * so capture time does, by the camera's clock as learned from the first frame that could be of one
 * release only.
 *
 * <p>As long as that clock is not known closely enough, nothing would tell a late frame of a lost
 * shot from a frame of the next release. Then the next release waits until the lost shot's frame
 * could hardly come any more ({@link #lateUntil}); up to then a frame is the lost shot's. After two
 * tries that brought nothing the clock is doubted in the same way, since it may have been set.
 */
final class OwnMatching {
  private OwnMatching() {}

  /** How a frame was taken, by itself; a lens without contacts has its f-number from the setup. */
  static Optional<Exposure> exposure(FrameMetadata frame, Aperture byHand) {
    if (frame.shutter().isEmpty() || frame.iso().isEmpty()) {
      return Optional.empty();
    }
    Aperture aperture = frame.aperture().orElse(byHand);
    return Optional.of(new Exposure(frame.shutter().get(), aperture, frame.iso().get()));
  }

  /**
   * @param state with the shots, the frames and what is known of the clock
   * @param now when the frame was read
   */
  static Match match(FrameMetadata frame, State state, Instant now) {
    Optional<Exposure> taken = exposure(frame, state.bracket().picture().aperture());
    if (taken.isEmpty()) {
      return new Match.Stray("it does not say its shutter and ISO, so its light cannot be told");
    }
    for (Event.FrameAccepted known : state.frames()) {
      if (SamePress.isAlike(known.frame().metadata(), frame, false)) {
        return new Match.Stray("it is a copy of " + known.frame().file());
      }
    }
    List<Shot> open = state.shots().stream().filter(Shot::couldStillArrive).toList();
    if (open.isEmpty()) {
      return new Match.Stray(
          "every release has brought its frames; of a camera that brackets by itself, say how many"
              + " frames a release brings");
    }
    Instant latest = now.minus(Matching.time(taken.get()));
    if (state.clock().isPresent() && frame.capturedAt().isPresent()) {
      Match match = byTime(frame.capturedAt().get(), state, open, latest, now);
      boolean doubted =
          state.awaited().map(shot -> shot.attempt() > Matching.ATTEMPTS_BY_CLOCK).orElse(false);
      if (match instanceof Match.Found || !doubted) {
        return match;
      }
    }
    return byArrival(frame, state, open, latest, now);
  }

  private static Match byArrival(
      FrameMetadata frame, State state, List<Shot> open, Instant latest, Instant now) {
    List<Shot> likely = open.stream().filter(shot -> isLikely(state, shot, now)).toList();
    List<Shot> candidates = likely.isEmpty() ? open : likely;
    if (candidates.size() != 1) {
      return new Match.Stray("more than one release could be its own, and nothing tells which");
    }
    Shot shot = candidates.get(0);
    return new Match.Found(
        shot,
        Match.Proof.ARRIVAL,
        frame
            .capturedAt()
            .map(time -> CameraClock.learned(time, begin(shot), end(state, shot, latest))));
  }

  private static Match byTime(
      CaptureTime captured, State state, List<Shot> open, Instant latest, Instant now) {
    CameraClock clock = state.clock().orElseThrow();
    List<Shot> timed =
        open.stream()
            .filter(
                shot ->
                    clock.allows(captured, begin(shot), end(state, shot, latest), Matching.SLACK))
            .toList();
    List<Shot> likely = timed.stream().filter(shot -> isLikely(state, shot, now)).toList();
    List<Shot> fitting = timed.size() > 1 ? likely : timed;
    if (fitting.size() == 1) {
      return new Match.Found(fitting.get(0), Match.Proof.CAPTURE_TIME, Optional.empty());
    }
    if (timed.size() > 1) {
      return new Match.Stray(
          "it was captured at "
              + captured.local()
              + ", and more than one release could be its own");
    }
    return inAnotherZone(captured, state, open, latest, now)
        .orElseGet(
            () ->
                new Match.Stray(
                    "it was captured at "
                        + captured.local()
                        + " by the camera's clock, when no frame of a release was missing"));
  }

  /**
   * The camera's clock was put to another time zone, if there is one release only whose frame can
   * be expected. With two of them a clock that was put right by any amount may seem to be a whole
   * zone off for the wrong one.
   */
  private static Optional<Match> inAnotherZone(
      CaptureTime captured, State state, List<Shot> open, Instant latest, Instant now) {
    List<Shot> likely = open.stream().filter(shot -> isLikely(state, shot, now)).toList();
    List<Shot> expected = likely.isEmpty() ? open : likely;
    if (expected.size() != 1) {
      return Optional.empty();
    }
    Shot shot = expected.get(0);
    CameraClock learned = CameraClock.learned(captured, begin(shot), end(state, shot, latest));
    return learned.isInAnotherZoneThan(state.clock().orElseThrow(), Matching.SLACK)
        ? Optional.of(new Match.Found(shot, Match.Proof.CAPTURE_TIME, Optional.of(learned)))
        : Optional.empty();
  }

  /**
   * Until when a lost shot's late frame would be taken for the next release's, so that this one has
   * to wait; nothing where capture times tell them apart or it is over.
   *
   * @param attempt the next release's
   */
  static Optional<Instant> lateUntil(State state, int attempt, Instant now) {
    if (attempt <= Matching.ATTEMPTS_BY_CLOCK
        && Matching.timesTellApart(state.clock(), state.opened().patience().frame())) {
      return Optional.empty();
    }
    return state.shots().stream()
        .filter(shot -> shot.standing() == Shot.Standing.LOST)
        .map(shot -> hardlyAfter(state, shot))
        .filter(until -> until.isAfter(now))
        .max(Instant::compareTo);
  }

  private static boolean isLikely(State state, Shot shot, Instant now) {
    return shot.isAwaitingFrame() || now.isBefore(hardlyAfter(state, shot));
  }

  /** As long as a lost folder is waited for, counted from when the shot was given up. */
  private static Instant hardlyAfter(State state, Shot lost) {
    return Stream.concat(lost.settledAt().stream(), state.graceFrom().stream())
        .max(Instant::compareTo)
        .orElse(lost.plannedAt())
        .plus(state.opened().patience().outage());
  }

  private static Instant begin(Shot shot) {
    return shot.commandedAt().orElse(shot.plannedAt());
  }

  /**
   * The latest instant at which an exposure of a shot can have begun: when it was given up, less
   * the time that was left for the file alone; of a single frame, when the trigger had answered.
   *
   * @param latest by the frame itself, which is here and was exposed before
   */
  private static Instant end(State state, Shot shot, Instant latest) {
    Duration file = state.opened().patience().frame();
    boolean single = state.opened().gear().framesPerRelease() == 1;
    Instant end =
        Stream.of(
                Optional.of(latest),
                shot.settledAt().map(at -> at.minus(file)),
                single ? shot.answeredAt() : Optional.<Instant>empty())
            .flatMap(Optional::stream)
            .min(Instant::compareTo)
            .orElse(latest);
    return end.isBefore(begin(shot)) ? begin(shot) : end;
  }
}
