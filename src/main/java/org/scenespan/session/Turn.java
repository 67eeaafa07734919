package org.scenespan.session;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** One step in the making: events are applied as they are recorded, effects wait for the end. */
final class Turn {
  private final Instant now;
  private final List<Event> events = new ArrayList<>();
  private final List<Effect> effects = new ArrayList<>();
  private State state;

  Turn(State state, Instant now) {
    this.state = state;
    this.now = now;
  }

  State state() {
    return state;
  }

  Instant now() {
    return now;
  }

  void record(Event event) {
    events.add(event);
    state = event.applyTo(state, now);
  }

  void perform(Effect effect) {
    effects.add(effect);
  }

  Step end() {
    return new Step(events, effects);
  }
}
