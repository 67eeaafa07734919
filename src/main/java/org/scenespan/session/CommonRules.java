package org.scenespan.session;

/** What a folder's coming and going, a hold and an unreadable file mean to any session. */
final class CommonRules {
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
    } else {
      return false;
    }
    return true;
  }
}
