package org.scenespan.rehearsal;

import java.time.Duration;
import java.time.Instant;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/**
 * What goes wrong, decided event by event. The seam through which a test hurts a {@link
 * SimulatedRig}; whoever implements it takes its chances from a seed.
 */
public interface Faults {
  /** Nothing goes wrong. */
  Faults NONE = new Faults() {};

  /**
   * @param reply the line that the trigger is about to say, without its end
   */
  default ReplyFate onReply(String reply, Instant now) {
    return new ReplyFate.Deliver();
  }

  /**
   * @param shot the number that the controller gave to the shot; {@link SimulatedRig#BY_HAND} for
   *     one taken at the camera
   */
  default FrameFate onFrame(int shot, Instant now) {
    return new FrameFate.Deliver();
  }

  /**
   * How far the camera's clock is ahead of what it was set to; negative where it is behind.
   *
   * @param now when a shutter opens
   */
  default Duration clockError(Instant now) {
    return Duration.ZERO;
  }

  /**
   * By how much more light a shutter lets in than its exact time says: blades and electronics are
   * off. The frame's own metadata knows nothing of it.
   *
   * @param set what it is set to
   */
  default Stops shutterError(Shutter set) {
    return Stops.ZERO;
  }

  /**
   * Told of each file's whole content before a byte of it is written, so that a test can know a
   * file by what is in it.
   *
   * @param shot as given to {@link #onFrame}
   */
  default void onFile(int shot, byte[] content) {}

  /** What becomes of one reply. Replies never overtake each other: a late one delays the next. */
  sealed interface ReplyFate {
    /** It is said as it should be. */
    record Deliver() implements ReplyFate {}

    /** It is never said. */
    record Lose() implements ReplyFate {}

    /** It is said later by this much. */
    record Delay(Duration by) implements ReplyFate {}

    /** It is said twice. */
    record Repeat() implements ReplyFate {}

    /** Only its beginning is said, and no end of line. */
    record Cut() implements ReplyFate {}

    /** As many bytes of nonsense are said instead, then the end of the line. */
    record Garble() implements ReplyFate {}
  }

  /** What becomes of one frame's files. */
  sealed interface FrameFate {
    /** They are written in the usual time. */
    record Deliver() implements FrameFate {}

    /** They never come. */
    record Lose() implements FrameFate {}

    /** They come later by this much; later frames do not wait for them. */
    record Delay(Duration by) implements FrameFate {}

    /** Only half of each file is ever written. */
    record Halve() implements FrameFate {}

    /** Each file is made and stays empty. */
    record Empty() implements FrameFate {}

    /** Where raw file and JPEG are written, only one of them comes. */
    record OneOnly(boolean raw) implements FrameFate {}

    /** They come, and some time later once more: over themselves, or under another name. */
    record Repeat(Duration after, boolean inPlace) implements FrameFate {}
  }
}
