package org.scenespan.session;

import java.util.List;

/**
 * What an input leads to: what is decided, to be on disk before anything is done, and what is then
 * to be done.
 */
public record Step(List<Event> events, List<Effect> effects) {
  public Step {
    events = List.copyOf(events);
    effects = List.copyOf(effects);
  }
}
