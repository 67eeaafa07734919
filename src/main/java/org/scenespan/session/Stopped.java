package org.scenespan.session;

import org.scenespan.plan.Decision;

/** Why a session came to its end. */
public enum Stopped {
  COVERED("covered"),
  DONE("done"),
  LIMIT("limit"),
  MOST_FRAMES("most-frames"),
  ASKED("asked"),
  TRIGGER_FAILED("trigger-failed"),
  FRAMES_MISSING("frames-missing");

  private final String label;

  Stopped(String label) {
    this.label = label;
  }

  static Stopped of(Decision.Ending ending) {
    return switch (ending) {
      case COVERED -> COVERED;
      case LIMIT -> LIMIT;
      case MOST_FRAMES -> MOST_FRAMES;
    };
  }

  /** The word for it in the journal. */
  public String label() {
    return label;
  }
}
