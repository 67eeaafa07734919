package org.scenespan.dashboard;

/**
 * What the page may ask of a running session. Each call only hands the wish on and returns at once;
 * that it was granted is told by the session's next record, never by the return.
 */
public interface Acts {
  /** No further shot until told otherwise. */
  void hold();

  /** A held session goes on. */
  void goOn();

  /** The session ends. */
  void stop();
}
