package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.LogHistogram;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * One release of a lapse, and how it stands.
 *
 * @param shot the release
 * @param place on the grid, from 1
 * @param due when the command's first byte was to leave
 * @param wish how bright its picture was meant to be against mid grey
 * @param expectedError how much brighter than that the exposure that can be set will make it
 * @param press what its frame tells the press by, once it is here
 */
public record LapseShot(
    Shot shot, int place, Instant due, Stops wish, Stops expectedError, Optional<Press> press) {
  /**
   * What tells one press of the shutter from another.
   *
   * @param captured when, by the camera's clock
   * @param luminance of its picture: two frames of one second are not the same to the last pixel
   */
  public record Press(CaptureTime captured, LogHistogram luminance) {
    static Optional<Press> of(FrameReading frame) {
      return frame
          .metadata()
          .capturedAt()
          .map(captured -> new Press(captured, frame.measure().luminance()));
    }

    /** Whether it is the same press; a clock that shows whole seconds does not say so by itself. */
    boolean isSame(Press other) {
      return captured.equals(other.captured)
          && (captured.subSeconds() || luminance.equals(other.luminance));
    }
  }

  int number() {
    return shot.number();
  }

  Exposure exposure() {
    return shot.exposure();
  }

  Duration exposing() {
    return Matching.time(shot.exposure());
  }

  LapseShot with(Shot other) {
    return new LapseShot(other, place, due, wish, expectedError, press);
  }

  LapseShot taken(FrameReading frame) {
    return new LapseShot(shot, place, due, wish, expectedError, Press.of(frame));
  }

  boolean isAwaitingFrame() {
    return shot.isAwaitingFrame();
  }

  boolean isLost() {
    return shot.standing() == Shot.Standing.LOST;
  }

  boolean isTaken() {
    return shot.standing() == Shot.Standing.TAKEN;
  }

  /** The latest instant at which the exposure can have begun, seen from an instant. */
  Instant latestBegin(Instant now) {
    // Whatever the trigger answered, after that it does not begin this shot any more.
    Instant done = shot.answeredAt().or(shot::settledAt).orElse(now);
    Instant latest = (done.isBefore(now) ? done : now).minus(exposing());
    return latest.isBefore(due) ? due : latest;
  }

  /** Whether its exposure can be over by then, its file written. */
  boolean canBeOver(Instant now) {
    return !due.plus(exposing()).isAfter(now);
  }
}
