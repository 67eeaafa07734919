package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.light.Exposure;

/**
 * One release that was decided on, and how it stands.
 *
 * @param number 1 and up, in the order of decision
 * @param attempt 1 for the first try at a picture, one more for each retake
 * @param exposure what was decided
 * @param plannedAt when
 * @param standing how it stands
 * @param commandedAt when the command was given to the trigger
 * @param answeredAt when the trigger answered, in whatever way
 * @param settledAt when it was given up
 */
public record Shot(
    int number,
    int attempt,
    Exposure exposure,
    Instant plannedAt,
    Standing standing,
    Optional<Instant> commandedAt,
    Optional<Instant> answeredAt,
    Optional<Instant> settledAt) {
  /** How a shot stands. */
  public enum Standing {
    /** Decided, not yet sent. */
    PLANNED,
    /** Sent; neither the trigger's answer nor the frame has come. */
    COMMANDED,
    /** The trigger says that it is done; the frame has not come. */
    CONFIRMED,
    /** Nobody knows whether it was taken; the frame has not come. */
    UNCONFIRMED,
    /** The trigger says that it did not release. */
    REFUSED,
    /** No frame came in time. */
    LOST,
    /** Its frame is here. */
    TAKEN
  }

  static Shot planned(int number, int attempt, Exposure exposure, Instant at) {
    return new Shot(
        number,
        attempt,
        exposure,
        at,
        Standing.PLANNED,
        Optional.empty(),
        Optional.empty(),
        Optional.empty());
  }

  Shot commanded(Instant at) {
    return new Shot(
        number,
        attempt,
        exposure,
        plannedAt,
        Standing.COMMANDED,
        Optional.of(at),
        answeredAt,
        settledAt);
  }

  /** The trigger's answer; a frame that came before it stays. */
  Shot answered(Standing answer, Instant at) {
    Standing now = isAwaitingFrame() ? answer : standing;
    return new Shot(
        number, attempt, exposure, plannedAt, now, commandedAt, Optional.of(at), settledAt);
  }

  Shot settled(Standing end, Instant at) {
    return new Shot(
        number, attempt, exposure, plannedAt, end, commandedAt, answeredAt, Optional.of(at));
  }

  /** What it cost beyond its exposure, once it is settled. */
  Optional<Duration> overhead() {
    if (commandedAt.isEmpty() || settledAt.isEmpty()) {
      return Optional.empty();
    }
    long exposed = (long) (exposure.shutter().seconds() * 1e9);
    Duration cost = Duration.between(commandedAt.get(), settledAt.get()).minusNanos(exposed);
    return Optional.of(cost.isNegative() ? Duration.ZERO : cost);
  }

  boolean isAwaitingFrame() {
    return standing == Standing.COMMANDED
        || standing == Standing.CONFIRMED
        || standing == Standing.UNCONFIRMED;
  }

  /** Whether the trigger still owes an answer, so that it may be busy. */
  boolean isAwaitingAnswer() {
    return commandedAt.isPresent() && answeredAt.isEmpty() && standing != Standing.LOST;
  }

  /** Whether a frame that arrives now could be this shot's. */
  boolean couldStillArrive() {
    return isAwaitingFrame() || standing == Standing.LOST;
  }
}
