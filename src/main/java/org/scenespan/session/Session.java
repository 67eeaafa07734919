package org.scenespan.session;

import java.time.Instant;

/** The rules of any session: the kind of its setup says whose they are. Pure. */
public final class Session {
  /** The journal's format. */
  public static final int VERSION = 1;

  private Session() {}

  /** Opens a new session. */
  public static Step open(Setup setup, Instant now) {
    if (setup instanceof BracketSetup bracket) {
      return BracketSession.open(bracket, now);
    }
    throw new IllegalArgumentException("no rules for " + setup.kind());
  }

  /** What one input leads to. */
  public static Step step(State state, Input input, Instant now) {
    if (state.opened() instanceof BracketSetup) {
      return BracketSession.step(state, input, now);
    }
    throw new IllegalArgumentException("no rules for " + state.opened().kind());
  }
}
