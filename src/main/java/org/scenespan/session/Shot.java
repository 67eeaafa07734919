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
 * @param wanted what was decided; absent where the camera keeps its own exposure
 * @param plannedAt when
 * @param standing how it stands
 * @param commandedAt when the command was given to the trigger
 * @param answeredAt when the trigger answered, in whatever way
 * @param settledAt when it was given up, or its last frame was here
 * @param frames how many of its frames are here
 * @param framedAt when the last of them came
 */
public record Shot(
    int number,
    int attempt,
    Optional<Exposure> wanted,
    Instant plannedAt,
    Standing standing,
    Optional<Instant> commandedAt,
    Optional<Instant> answeredAt,
    Optional<Instant> settledAt,
    int frames,
    Optional<Instant> framedAt) {
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
    /** Taken back before it was sent. */
    WITHDRAWN,
    /** Its frame is here. */
    TAKEN
  }

  static Shot planned(int number, int attempt, Optional<Exposure> wanted, Instant at) {
    return new Shot(
        number,
        attempt,
        wanted,
        at,
        Standing.PLANNED,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        0,
        Optional.empty());
  }

  /** What was decided; only where it is the session that decides on exposures. */
  public Exposure exposure() {
    return wanted.orElseThrow(
        () -> new IllegalStateException("the camera keeps its own exposure in shot " + number));
  }

  Shot commanded(Instant at) {
    return with(Standing.COMMANDED, Optional.of(at), answeredAt, settledAt);
  }

  /** The trigger's answer; a frame that came before it stays. */
  Shot answered(Standing answer, Instant at) {
    // Some of its frames are here: whatever the trigger says, it did release.
    Standing told = answer == Standing.REFUSED && frames > 0 ? Standing.UNCONFIRMED : answer;
    return with(isAwaitingFrame() ? told : standing, commandedAt, Optional.of(at), settledAt);
  }

  Shot settled(Standing end, Instant at) {
    return with(end, commandedAt, answeredAt, Optional.of(at));
  }

  /**
   * A frame of it is here.
   *
   * @param expected how many a release brings
   */
  Shot framed(int expected, Instant at) {
    boolean whole = frames + 1 >= expected;
    return new Shot(
        number,
        attempt,
        wanted,
        plannedAt,
        whole ? Standing.TAKEN : standing,
        commandedAt,
        answeredAt,
        whole ? Optional.of(at) : settledAt,
        frames + 1,
        Optional.of(at));
  }

  private Shot with(
      Standing now,
      Optional<Instant> commanded,
      Optional<Instant> answered,
      Optional<Instant> settled) {
    return new Shot(
        number, attempt, wanted, plannedAt, now, commanded, answered, settled, frames, framedAt);
  }

  /** What it cost beyond its exposure, once it is settled. */
  Optional<Duration> overhead() {
    if (wanted.isEmpty() || commandedAt.isEmpty() || settledAt.isEmpty()) {
      return Optional.empty();
    }
    long exposed = (long) (wanted.get().shutter().seconds() * 1e9);
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
