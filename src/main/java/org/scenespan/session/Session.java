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
      return bracket.gear().hand().isPresent()
          ? HandSession.open(bracket, now)
          : BracketSession.open(bracket, now);
    }
    if (setup instanceof LapseSetup lapse) {
      return LapseSession.open(lapse, now);
    }
    return TetherSession.open((TetherSetup) setup, now);
  }

  /** What one input leads to. */
  public static Step step(State state, Input input, Instant now) {
    if (state.opened() instanceof BracketSetup) {
      return state.opened().gear().hand().isPresent()
          ? HandSession.step(state, input, now)
          : BracketSession.step(state, input, now);
    }
    if (state.isLapse()) {
      return LapseSession.step(state, input, now);
    }
    return TetherSession.step(state, input, now);
  }
}
