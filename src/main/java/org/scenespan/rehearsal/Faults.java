package org.scenespan.rehearsal;

import java.time.Duration;
import java.time.Instant;

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
   * @param shot the number that the controller gave to the shot
   */
  default FrameFate onFrame(int shot, Instant now) {
    return new FrameFate.Deliver();
  }

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
  }
}
