package org.scenespan.session;

import java.time.Instant;

/**
 * The rules of a lapse: a frame at each place of a grid in time, with the exposure that the ramp
 * chooses, whatever happens to any of them. Pure.
 */
final class LapseSession {
  private LapseSession() {}

  static Step open(LapseSetup setup, Instant now) {
    if (setup.gear().hand().isPresent()) {
      return LapseByHand.open(setup, now);
    }
    Turn turn = new Turn(State.EMPTY, now);
    turn.record(new Event.SessionOpened(Session.VERSION, setup));
    turn.perform(new Effect.Greet());
    return turn.end();
  }

  static Step step(State state, Input input, Instant now) {
    Turn turn = new Turn(state, now);
    if (state.isClosed()) {
      return turn.end();
    }
    if (state.opened().gear().hand().isPresent()) {
      return LapseByHand.step(turn, input);
    }
    new LapseRules(turn).take(input);
    if (!turn.state().isClosed()) {
      new LapseTimes(turn.state()).next(now).ifPresent(due -> turn.perform(new Effect.WakeAt(due)));
    }
    return turn.end();
  }
}
