package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.frame.CaptureTime;

/**
 * How far a camera's clock is ahead of the host's, learned from a frame that could be of one shot
 * only: not a point but the interval that the shot's own times leave open.
 *
 * @param least the smallest that the difference can be
 * @param most the largest
 */
public record CameraClock(Duration least, Duration most) {
  public CameraClock {
    if (least.compareTo(most) > 0) {
      throw new IllegalArgumentException(
          "a clock's least offset (" + least + ") must not be above its most (" + most + ")");
    }
  }

  /** What zones differ by: all offsets in use are whole quarters of an hour (IANA tz database). */
  private static final long ZONE_STEP_MILLIS = Duration.ofMinutes(15).toMillis();

  /** How much is not known of it. */
  Duration uncertainty() {
    return most.minus(least);
  }

  /** What a frame's capture time says if its exposure began between two instants. */
  static CameraClock learned(CaptureTime captured, Instant earliest, Instant latest) {
    Instant shown = captured.asInstant();
    // A clock that shows whole seconds has cut off up to one.
    // Whole milliseconds, so that the journal holds exactly what was learned.
    return new CameraClock(
        Duration.ofMillis(Duration.between(latest, shown).toMillis() - 1),
        Duration.ofMillis(
            Duration.between(earliest, shown).plus(captured.granularity()).toMillis() + 1));
  }

  /** Whether a frame's exposure can have begun between two instants by the host's clock. */
  boolean allows(CaptureTime captured, Instant earliest, Instant latest, Duration slack) {
    Instant shown = captured.asInstant();
    Instant first = shown.minus(most).minus(slack);
    Instant last = shown.plus(captured.granularity()).minus(least).plus(slack);
    return !last.isBefore(earliest) && !first.isAfter(latest);
  }

  /** Whether one or more whole steps between time zones lead from the other clock to this one. */
  boolean isInAnotherZoneThan(CameraClock other, Duration slack) {
    long from = least.minus(other.most).minus(slack).toMillis();
    long to = most.minus(other.least).plus(slack).toMillis();
    long step = Math.floorDiv(to, ZONE_STEP_MILLIS) * ZONE_STEP_MILLIS;
    return step >= from && step != 0;
  }

  /** The same, known less well. */
  CameraClock widened(Duration by) {
    return new CameraClock(least.minus(by), most.plus(by));
  }

  /** What both allow; nothing where they contradict each other. */
  Optional<CameraClock> common(CameraClock other) {
    Duration low = least.compareTo(other.least) > 0 ? least : other.least;
    Duration high = most.compareTo(other.most) < 0 ? most : other.most;
    return low.compareTo(high) <= 0 ? Optional.of(new CameraClock(low, high)) : Optional.empty();
  }
}
