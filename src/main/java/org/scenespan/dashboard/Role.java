package org.scenespan.dashboard;

/** What a browser was let in for. */
enum Role {
  /** May look, and may hold, continue and stop the session. */
  OPERATOR,
  /** May look. */
  VIEWER
}
