package org.scenespan.dashboard;

import java.util.Optional;
import org.scenespan.frame.Patch;
import org.scenespan.session.Mark;

/**
 * What the page may ask of a running session. Each call only hands the wish on and returns at once;
 * that it was granted is told by the session's next record, never by the return.
 */
public interface Acts {
  /** No further shot until told otherwise. */
  void hold();

  /** A held session goes on. */
  void goOn();

  /**
   * A frame becomes the reference frame, or gets another patch.
   *
   * @param patch the grey card or target in it
   */
  void reference(String file, Optional<Patch> patch);

  /** The photographer says something of a frame. */
  void mark(String file, Mark mark, String note);

  /**
   * The camera is released after a count-down.
   *
   * @param countSeconds how long it is: 0, 2, 5 or 10
   * @return why that cannot be had, as a part of a sentence; empty where the wish was handed on
   */
  default Optional<String> release(int countSeconds) {
    return Optional.of("only a tether is released from the page");
  }

  /** A release whose count-down runs is taken back. */
  default void withdraw() {}

  /** The session ends. */
  void stop();
}
