package org.scenespan.session;

import java.time.Instant;

/**
 * The rules of a bracket: from state, an input and the time to events and effects. Pure; the same
 * inputs give the same session, whether they come from real parts or from simulated ones.
 */
final class BracketSession {
  private BracketSession() {}

  /** Opens a new session. */
  static Step open(BracketSetup setup, Instant now) {
    Turn turn = new Turn(State.EMPTY, now);
    turn.record(new Event.SessionOpened(Session.VERSION, setup));
    turn.perform(new Effect.Greet());
    return turn.end();
  }

  /** What one input leads to. */
  static Step step(State state, Input input, Instant now) {
    Turn turn = new Turn(state, now);
    if (state.isClosed()) {
      return turn.end();
    }
    new BracketRules(turn).take(input);
    if (!turn.state().isClosed()) {
      Deadlines.next(turn.state(), now).ifPresent(due -> turn.perform(new Effect.WakeAt(due)));
    }
    return turn.end();
  }
}
