package org.scenespan.trigger;

import java.time.Duration;
import java.util.Optional;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;

/**
 * How to talk with one kind of trigger, and what it can set. Read and checked by {@link Profiles};
 * its fields are described in docs/profile-format.md.
 *
 * @param name the name it is called by
 * @param description one sentence for a list
 * @param line how the serial line is set
 * @param settle how long to listen and throw away after a time-out, before the next question
 * @param greeting asks who is there; its reply has the group {@code identity}
 * @param clear sent before each greeting and each shot, to forget old errors
 * @param reset sent after the greeting
 * @param errorQuery asks for an error that the device queued
 * @param refusal a line by which the device says no of its own accord
 * @param commands the settings and the release
 * @param meter asks for the scene's EV at ISO 100; its reply has the group {@code ev}
 * @param limits what the device can set
 * @param releaseLag from the release's command to the shutter's opening
 */
public record Profile(
    String name,
    String description,
    LineSettings line,
    Duration settle,
    Exchange greeting,
    Optional<Exchange> clear,
    Optional<Exchange> reset,
    Optional<ErrorQuery> errorQuery,
    Optional<ReplyPattern> refusal,
    Commands commands,
    Optional<Exchange> meter,
    Limits limits,
    Duration releaseLag) {

  /** The parity bit of a character. */
  public enum Parity {
    NONE,
    EVEN,
    ODD
  }

  /** Who holds the other side's bytes back, and how. */
  public enum FlowControl {
    NONE,
    RTSCTS,
    XONXOFF
  }

  /** What ends a line. */
  public enum Terminator {
    LF("\n"),
    CR("\r"),
    CRLF("\r\n");

    private final String characters;

    Terminator(String characters) {
      this.characters = characters;
    }

    public String characters() {
      return characters;
    }
  }

  /**
   * How the serial line is set.
   *
   * @param baud bits a second
   */
  public record LineSettings(
      int baud,
      int dataBits,
      Parity parity,
      int stopBits,
      FlowControl flowControl,
      Terminator sendTerminator,
      Terminator replyTerminator) {}

  /**
   * One command and what comes back.
   *
   * @param send the command's template
   * @param checkErrors whether to ask the error query after it
   * @param query a question to send after that, to which {@code reply} is then the answer
   * @param reply the answer awaited; none if the device stays silent
   * @param timeout for each answer
   * @param retries how often to do it again when no good answer came; of a release, only the query
   */
  public record Exchange(
      String send,
      boolean checkErrors,
      Optional<String> query,
      Optional<ReplyPattern> reply,
      Duration timeout,
      int retries) {}

  /**
   * Asks for a queued error.
   *
   * @param reply has the group {@code code}, which is 0 for none, and may have {@code message}
   */
  public record ErrorQuery(String send, ReplyPattern reply) {}

  /** The settings, each absent if the device cannot do it, and the release. */
  public record Commands(
      Optional<Exchange> shutter,
      Optional<Exchange> iso,
      Optional<Exchange> aperture,
      Exchange release) {}

  /**
   * What the device can set.
   *
   * @param shutterStepSeconds the resolution of its times; 0 for the third-stop series
   */
  public record Limits(
      Shutter shutterShortest,
      Shutter shutterLongest,
      double shutterStepSeconds,
      Iso isoLowest,
      Iso isoHighest,
      Aperture apertureWidest,
      Aperture apertureSmallest) {}

  /** What can be set, as the planner wants it. */
  public CameraRange cameraRange() {
    return new CameraRange(
        new ShutterLadder(limits.shutterShortest, limits.shutterLongest, limits.shutterStepSeconds),
        limits.isoLowest,
        limits.isoHighest,
        limits.apertureWidest,
        limits.apertureSmallest);
  }
}
