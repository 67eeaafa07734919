package org.scenespan.cli;

import org.scenespan.session.Event;
import org.scenespan.session.Stopped;

/** What the program ends with. */
final class ExitCode {
  static final int DONE = 0;
  static final int WRONG_USE = 2;
  static final int NOT_COVERED = 3;
  static final int TRIGGER_FAILED = 4;
  static final int FRAMES_MISSING = 5;
  static final int INTERRUPTED = 130;

  private ExitCode() {}

  static int of(Event.Report report) {
    Stopped stopped = report.stopped();
    if (!(report instanceof Event.BracketReport) && stopped == Stopped.ASKED) {
      return DONE;
    }
    return switch (stopped) {
      case COVERED, DONE -> ExitCode.DONE;
      case LIMIT, MOST_FRAMES, ASKED -> NOT_COVERED;
      case TRIGGER_FAILED -> TRIGGER_FAILED;
      case FRAMES_MISSING -> FRAMES_MISSING;
    };
  }
}
