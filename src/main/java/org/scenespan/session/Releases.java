package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.stream.Stream;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;

/**
 * The releases that an operator asks a tether for: counted down, commanded once, and answered by
 * one frame. Pure.
 *
 * <p>A tether's photographer may press the camera's own button at any time. So the first frame that
 * lands is taken for what the release brought, unless its capture time proves it older.
 */
public final class Releases {
  private Releases() {}

  /**
   * Why a release that is asked for now cannot be had, as a part of a sentence; empty if it can.
   */
  public static Optional<String> refusal(State state) {
    if (state.setup().isEmpty()) {
      return Optional.of("the session has not begun yet");
    }
    if (state.isClosed()) {
      return Optional.of("the session has ended");
    }
    if (!(state.opened() instanceof TetherSetup setup)) {
      return Optional.of("only a tether is released from the page");
    }
    if (!setup.hasTrigger()) {
      return Optional.of("this session has no trigger; start it with --trigger and --port");
    }
    if (state.identity().isEmpty()) {
      return Optional.of(
          state.triggerLostAt().isPresent()
              ? "the trigger is lost; it is being asked for again"
              : "the trigger has not answered yet");
    }
    return open(state)
        .map(
            shot ->
                shot.standing() == Shot.Standing.PLANNED
                    ? "a count-down is running"
                    : shot.isAwaitingFrame()
                        ? "the frame of release " + shot.number() + " has not come yet"
                        : "the trigger is still busy with release " + shot.number());
  }

  /** The one release that is not over: counted down, or with its answer or its frame to come. */
  private static Optional<Shot> open(State state) {
    return last(state)
        .filter(
            shot ->
                shot.standing() == Shot.Standing.PLANNED
                    || shot.isAwaitingFrame()
                    || shot.isAwaitingAnswer());
  }

  private static Optional<Shot> last(State state) {
    return state.shots().isEmpty()
        ? Optional.empty()
        : Optional.of(state.shots().get(state.shots().size() - 1));
  }

  private static Optional<Shot> counting(State state) {
    return last(state).filter(shot -> shot.standing() == Shot.Standing.PLANNED);
  }

  /** When the next count-down or wait for a frame is over, if there is one. */
  static Optional<Instant> due(State state) {
    return Stream.of(
            counting(state).map(shot -> counted(state, shot)),
            state
                .awaited()
                .filter(shot -> state.folderLostAt().isEmpty())
                .map(shot -> patience(state, shot)))
        .flatMap(Optional::stream)
        .min(Instant::compareTo);
  }

  private static Instant counted(State state, Shot shot) {
    return shot.plannedAt().plusSeconds(state.tether().asked().orElseThrow().countSeconds());
  }

  /** Until when a release's frame is waited for; its exposure is part of the wait. */
  private static Instant patience(State state, Shot shot) {
    Instant from = shot.commandedAt().orElse(shot.plannedAt());
    Instant anew = state.graceFrom().orElse(from);
    return (anew.isAfter(from) ? anew : from).plus(state.opened().patience().frame());
  }

  /** A wish that cannot be granted any more is passed over: what came in between is on record. */
  static void ask(Turn turn, int countSeconds) {
    if (refusal(turn.state()).isEmpty()) {
      turn.record(new Event.ReleaseAsked(turn.state().shots().size() + 1, countSeconds));
      tick(turn);
    }
  }

  static void withdraw(Turn turn, String reason) {
    counting(turn.state())
        .ifPresent(shot -> turn.record(new Event.ReleaseWithdrawn(shot.number(), reason)));
  }

  /** Commands what is counted down, and gives up the frame that has not come. */
  static void tick(Turn turn) {
    State state = turn.state();
    Optional<Shot> over =
        counting(state).filter(shot -> !turn.now().isBefore(counted(state, shot)));
    if (over.isPresent()) {
      turn.record(new Event.ShotCommanded(over.get().number(), 1, Optional.empty()));
      turn.perform(new Effect.Press(over.get().number()));
    }
    Optional<Shot> awaited = state.awaited();
    if (awaited.isPresent()
        && state.folderLostAt().isEmpty()
        && !turn.now().isBefore(patience(state, awaited.get()))) {
      turn.record(
          new Event.ShotLost(
              awaited.get().number(),
              "no frame came within " + state.opened().patience().frame().toSeconds() + " s."));
    }
  }

  /** The trigger's answer to a release; one that is not waited for is passed over. */
  static void answered(Turn turn, int number, Event event) {
    boolean known = number >= 1 && number <= turn.state().shots().size();
    if (known && turn.state().shot(number).isAwaitingAnswer()) {
      turn.record(event);
    }
  }

  /**
   * Credits a frame that has just landed to the release that waits for one.
   *
   * @param before the state before it landed
   */
  static void credit(Turn turn, State before, String file, FrameMetadata metadata) {
    Optional<Shot> awaited = turn.state().awaited();
    if (awaited.isEmpty()) {
      return;
    }
    Instant commanded = awaited.get().commandedAt().orElse(awaited.get().plannedAt());
    Duration outage = turn.state().opened().patience().outage();
    Optional<Match.Proof> proof =
        metadata
            .capturedAt()
            .map(captured -> byTime(captured, before, turn.now(), commanded, outage))
            .orElseGet(() -> byArrival(before, turn.now(), outage));
    proof.ifPresent(it -> turn.record(new Event.ReleaseAnswered(awaited.get().number(), file, it)));
  }

  /**
   * No frame lands before it was taken, so that the largest lead of a capture time over a landing
   * is the least that the camera's clock is ahead, and this frame was taken at {@code latest} or
   * before. Where that is before the command by no more than a lost folder is waited for, it is
   * another frame; by more, and the camera's clock was put back.
   */
  private static Optional<Match.Proof> byTime(
      CaptureTime captured, State before, Instant now, Instant commanded, Duration outage) {
    Optional<Duration> ahead = before.tether().leads().stream().max(Duration::compareTo);
    if (ahead.isEmpty()) {
      return Optional.of(Match.Proof.ARRIVAL);
    }
    Instant latest = captured.asInstant().plus(captured.granularity()).minus(ahead.get());
    if (latest.isBefore(commanded.minus(outage))) {
      return Optional.of(Match.Proof.ARRIVAL);
    }
    return latest.isBefore(commanded) ? Optional.empty() : Optional.of(Match.Proof.CAPTURE_TIME);
  }

  /** Of a file that does not say when it was taken, a lost release's late frame cannot be told. */
  private static Optional<Match.Proof> byArrival(State before, Instant now, Duration outage) {
    boolean lateOnes =
        before.shots().stream()
            .filter(shot -> shot.standing() == Shot.Standing.LOST)
            .flatMap(shot -> shot.settledAt().stream())
            .anyMatch(lost -> now.isBefore(lost.plus(outage)));
    return lateOnes ? Optional.empty() : Optional.of(Match.Proof.ARRIVAL);
  }
}
