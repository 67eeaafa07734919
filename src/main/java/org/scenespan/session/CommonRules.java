package org.scenespan.session;

import java.util.Optional;

/** What a folder's coming and going, a hold, a mark and an unreadable file mean to any session. */
final class CommonRules {
  /** A note is a line, not a letter; characters. */
  static final int LONGEST_NOTE = 500;

  private CommonRules() {}

  /**
   * Records what an input means, if it is one of these; whether anything goes on is the session's.
   *
   * @return whether it is
   */
  static boolean take(Turn turn, Input input) {
    State state = turn.state();
    if (input instanceof Input.FrameUnreadable unreadable) {
      turn.record(new Event.FrameSkipped(unreadable.file(), unreadable.reason()));
    } else if (input instanceof Input.FolderLost lost) {
      if (state.folderLostAt().isEmpty()) {
        turn.record(new Event.FolderLost(lost.reason()));
      }
    } else if (input instanceof Input.FolderReturned) {
      if (state.folderLostAt().isPresent()) {
        turn.record(new Event.FolderReturned());
      }
    } else if (input instanceof Input.HoldAsked) {
      if (!state.held()) {
        turn.record(new Event.SessionHeld());
      }
    } else if (input instanceof Input.ContinueAsked) {
      if (state.held()) {
        turn.record(new Event.SessionContinued());
      }
    } else if (input instanceof Input.MarkAsked asked) {
      if (isFrame(state, asked.file())) {
        turn.record(marked(asked));
      }
    } else {
      // What only a tether has is asked of another session in vain, and does it no harm.
      return input instanceof Input.ReferenceAsked
          || input instanceof Input.ReleaseAsked
          || input instanceof Input.WithdrawalAsked;
    }
    return true;
  }

  /** The record of a mark; its note is cut where it is too long. */
  static Event.FrameMarked marked(Input.MarkAsked asked) {
    String note = asked.note();
    return new Event.FrameMarked(
        asked.file(),
        asked.mark(),
        note.length() <= LONGEST_NOTE ? note : note.substring(0, LONGEST_NOTE));
  }

  private static boolean isFrame(State state, String file) {
    return state.isLapse()
        ? state.lapse().frames().list().stream()
            .anyMatch(frame -> frame.file().equals(Optional.of(file)))
        : state.frames().stream().anyMatch(frame -> frame.frame().file().equals(file));
  }
}
