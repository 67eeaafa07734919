package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.light.Exposure;

/**
 * Which shot a frame belongs to.
 *
 * <p>Order of arrival is no proof: a frame that lands after its time-out must never be credited to
 * the next shot. The file's own settings and capture time decide. Where nothing is known of the
 * camera's clock, a retake is set a click apart from the shot that it replaces ({@link Retakes}),
 * so that the settings tell the two apart.
 *
 * <p>A camera's clock may change its time zone in mid-session, or be put right. A frame whose
 * settings were one shot's only is that shot's if the clock is off by a change of zone; if it is
 * off by anything else, only after two tries brought nothing, of which the second retake is set
 * apart even though the clock seems to be known. The clock is then learned anew.
 */
final class Matching {
  /** The command's way through the trigger, the shutter's lag and a clock's drift in a session. */
  static final Duration SLACK = Duration.ofMillis(1500);

  /** How often a picture is tried before the camera's clock, though known, is doubted. */
  static final int ATTEMPTS_BY_CLOCK = 2;

  private Matching() {}

  /**
   * Whether capture times tell a lost shot from its retake, which follows it by at least the time
   * that a frame is waited for.
   */
  static boolean timesTellApart(Optional<CameraClock> clock, Duration frame) {
    return clock.isPresent()
        && clock.get().uncertainty().plus(SLACK).plus(SLACK).compareTo(frame) < 0;
  }

  /**
   * @param shots all shots of the session so far
   * @param clock what is known of the camera's clock
   * @param now when the frame was read
   */
  static Match match(
      FrameMetadata frame, List<Shot> shots, Optional<CameraClock> clock, Instant now) {
    List<Shot> open = shots.stream().filter(Shot::couldStillArrive).toList();
    if (open.isEmpty()) {
      return new Match.Stray("no shot is waiting for a frame");
    }
    if (frame.exposure().isEmpty()) {
      return byArrival(shots, open);
    }
    Exposure taken = frame.exposure().get();
    List<Shot> alike = open.stream().filter(shot -> shot.exposure().isSameSetting(taken)).toList();
    if (alike.isEmpty()) {
      Shot latest = open.get(open.size() - 1);
      return new Match.Stray(
          "its metadata says " + taken + ", the command was " + latest.exposure());
    }
    boolean unique = alike.size() == 1 && noOtherHadIt(shots, alike.get(0));
    if (clock.isPresent() && frame.capturedAt().isPresent()) {
      CaptureTime captured = frame.capturedAt().get();
      List<Shot> timed =
          alike.stream()
              .filter(shot -> clock.get().allows(captured, begin(shot), end(shot, now), SLACK))
              .toList();
      if (timed.size() == 1) {
        return new Match.Found(timed.get(0), Match.Proof.CAPTURE_TIME, Optional.empty());
      }
      if (timed.size() > 1) {
        return new Match.Stray(
            "it was captured at " + captured.local() + ", and more than one shot could be its own");
      }
      if (!unique || !mayHaveJumped(frame, shots, alike.get(0), clock.get(), now)) {
        return new Match.Stray(
            "it was captured at "
                + captured.local()
                + " by the camera's clock, when no shot of these settings was being taken");
      }
      // No other shot had these settings: it is the camera's clock that was put forward or back.
    }
    if (!unique) {
      return new Match.Stray("more than one shot had its settings, and nothing else tells them");
    }
    Shot shot = alike.get(0);
    return new Match.Found(shot, Match.Proof.EXPOSURE, learned(frame, shots, shot, now));
  }

  private static Optional<CameraClock> learned(
      FrameMetadata frame, List<Shot> shots, Shot shot, Instant now) {
    return frame.capturedAt().map(time -> CameraClock.learned(time, firstSet(shots, shot), now));
  }

  /** Whether the clock was put to another zone, or is to be doubted since two tries failed. */
  private static boolean mayHaveJumped(
      FrameMetadata frame, List<Shot> shots, Shot shot, CameraClock clock, Instant now) {
    return shot.attempt() > ATTEMPTS_BY_CLOCK
        || learned(frame, shots, shot, now)
            .filter(other -> other.isInAnotherZoneThan(clock, SLACK))
            .isPresent();
  }

  /**
   * When the camera first had a shot's settings: a release by hand may have come before the shot's
   * own, after a refused one. Likewise it may come at any time until the file is here.
   */
  private static Instant firstSet(List<Shot> shots, Shot shot) {
    return shots.stream()
        .filter(other -> other.exposure().isSameSetting(shot.exposure()))
        .flatMap(other -> other.commandedAt().stream())
        .min(Instant::compareTo)
        .orElse(shot.plannedAt());
  }

  private static boolean noOtherHadIt(List<Shot> shots, Shot shot) {
    return shots.stream()
        .filter(other -> other.commandedAt().isPresent() && other.number() != shot.number())
        // A refused shot was certainly not taken.
        .filter(other -> other.standing() != Shot.Standing.REFUSED)
        .noneMatch(other -> other.exposure().isSameSetting(shot.exposure()));
  }

  private static Match byArrival(List<Shot> shots, List<Shot> open) {
    boolean anyLost = shots.stream().anyMatch(shot -> shot.standing() == Shot.Standing.LOST);
    if (open.size() == 1 && !anyLost) {
      return new Match.Found(open.get(0), Match.Proof.ARRIVAL, Optional.empty());
    }
    return new Match.Stray(
        "it says nothing of how it was taken, and more than one shot could be its own");
  }

  static Duration time(Exposure exposure) {
    return Duration.ofNanos((long) (exposure.shutter().seconds() * 1e9));
  }

  private static Instant begin(Shot shot) {
    return shot.commandedAt().orElse(shot.plannedAt());
  }

  /** The latest instant at which the exposure can have begun. */
  private static Instant end(Shot shot, Instant now) {
    Duration exposure = time(shot.exposure());
    // Whatever the trigger answered, after that it does not begin this shot any more.
    Instant done = shot.answeredAt().or(shot::settledAt).orElse(now);
    Instant latest = done.minus(exposure);
    return latest.isBefore(begin(shot)) ? begin(shot) : latest;
  }
}
