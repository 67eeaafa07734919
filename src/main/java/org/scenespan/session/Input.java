package org.scenespan.session;

import java.time.Duration;
import java.util.Optional;
import java.util.Set;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Patch;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;

/** Something that happened outside; the session alone decides what it means. */
public sealed interface Input {
  /** The session starts, or comes back after the program ended in the middle of it. */
  record Begun() implements Input {}

  /** Time has passed; sent when the instant of a {@link Effect.WakeAt} has come. */
  record ClockTicked() implements Input {}

  /** The trigger answered its greeting. */
  record TriggerGreeted(String identity) implements Input {}

  /** The port is gone, or a greeting was not answered within the profile's retries. */
  record TriggerLost(String reason) implements Input {}

  /** The trigger said something without being asked: its battery, its temperature, a button. */
  record TriggerNoticed(String kind, String text) implements Input {}

  /** The camera's or the trigger's meter was read. */
  record SceneMetered(Ev ev) implements Input {}

  /** The meter could not be read. */
  record MeterUnread(String reason) implements Input {}

  /**
   * The trigger says that the release of a shot is done.
   *
   * @param exposed how long it says that the shutter was open, if it says so
   */
  record ReleaseConfirmed(int shot, Optional<Duration> exposed) implements Input {
    public ReleaseConfirmed(int shot) {
      this(shot, Optional.empty());
    }
  }

  /** The trigger says that it did not release. */
  record ReleaseRefused(int shot, String reason) implements Input {}

  /** Whether the shot was taken is not known: the answer was late, garbled or did not come. */
  record ReleaseUnconfirmed(int shot, String reason) implements Input {}

  /**
   * A whole frame was read and measured.
   *
   * @param against the file of the reference frame that it was held against, if there was one
   * @param deviation from that, where it can be told
   * @param level how bright a lapse's part of the picture is, relative to saturation
   * @param steadiness whether a lapse's camera and lens are as they were
   */
  record FrameMeasured(
      FrameReading reading,
      Optional<String> against,
      Optional<Deviation> deviation,
      Optional<Stops> level,
      Steadiness steadiness)
      implements Input {
    public FrameMeasured(FrameReading reading) {
      this(reading, Optional.empty(), Optional.empty());
    }

    public FrameMeasured(FrameReading reading, Optional<Deviation> deviation) {
      this(reading, deviation, Optional.empty());
    }

    public FrameMeasured(
        FrameReading reading, Optional<Deviation> deviation, Optional<Stops> level) {
      this(reading, deviation, level, Steadiness.UNKNOWN);
    }

    public FrameMeasured(
        FrameReading reading,
        Optional<Deviation> deviation,
        Optional<Stops> level,
        Steadiness steadiness) {
      this(reading, deviation.map(Deviation::against), deviation, level, steadiness);
    }
  }

  /**
   * How much room there is for a lapse's frames.
   *
   * @param freeBytes on the hot folder's disk
   * @param frameBytes what the newest frame takes of it, both files of a press together
   */
  record SpaceSeen(long freeBytes, long frameBytes) implements Input {}

  /** The disk takes no more records of a lapse; they are held in memory. */
  record RecordsHeld(String reason) implements Input {}

  /** All records are on disk again. */
  record RecordsWritten() implements Input {}

  /** A file that looks like a frame cannot be read. */
  record FrameUnreadable(String file, String reason) implements Input {}

  /** The hot folder cannot be listed. */
  record FolderLost(String reason) implements Input {}

  /** The hot folder can be listed again. */
  record FolderReturned() implements Input {}

  /** The photographer asks for no further shot until told otherwise. */
  record HoldAsked() implements Input {}

  /** The photographer lets a held session go on. */
  record ContinueAsked() implements Input {}

  /**
   * A frame is to be the reference frame, or its patch another one.
   *
   * @param patch the grey card or target in it
   */
  record ReferenceAsked(String file, Optional<Patch> patch) implements Input {}

  /** The photographer says something of a frame. */
  record MarkAsked(String file, Mark mark, String note) implements Input {}

  /**
   * An operator asks for a release, after a count-down.
   *
   * @param countSeconds how long it is; one of {@link #COUNTS}
   */
  record ReleaseAsked(int countSeconds) implements Input {
    /** What a count-down may be, seconds. */
    public static final Set<Integer> COUNTS = Set.of(0, 2, 5, 10);

    public ReleaseAsked {
      if (!COUNTS.contains(countSeconds)) {
        throw new IllegalArgumentException(
            "the count-down (" + countSeconds + " s) must be 0, 2, 5 or 10 s");
      }
    }
  }

  /** An operator takes back a release whose count-down runs. */
  record WithdrawalAsked() implements Input {}

  /** The photographer ends the session. */
  record StopAsked() implements Input {}
}
