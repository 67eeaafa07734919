package org.scenespan.plan;

import org.scenespan.light.Exposure;

/** What a plan answers: take this, or stop here; always with the reason in plain words. */
public sealed interface Decision {
  /** One sentence or two for the photographer. */
  String why();

  /**
   * Take a frame.
   *
   * @param settles what the frame is expected to settle, in words
   * @param framesLeft how many frames are expected from this one on, itself included
   * @param exposureLeft how long they are exposed together, seconds, so far as can be told
   */
  record Expose(Exposure exposure, String why, String settles, int framesLeft, double exposureLeft)
      implements Decision {}

  /** Take no more. */
  record Finish(Ending ending, String why) implements Decision {}

  /** How a plan came to its end. */
  enum Ending {
    /** Every part of the span lies in some frame's reach. */
    COVERED,
    /** A limit of the camera or the picture leaves an end open. */
    LIMIT,
    /** The most frames are taken. */
    MOST_FRAMES
  }
}
