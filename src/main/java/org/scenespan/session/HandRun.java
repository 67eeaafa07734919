package org.scenespan.session;

import java.time.Instant;
import java.util.Optional;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * What a lapse by hand has asked of the photographer last.
 *
 * @param asked where the dials should stand, on manual
 * @param dial the instruction; without turns nothing is outstanding
 * @param since when a dial was last asked to be turned
 * @param offset by how much brighter than mid grey the first frame's scene is meant to be anyway
 */
public record HandRun(
    Optional<Exposure> asked, Optional<Event.DialAsked> dial, Instant since, Stops offset) {
  static final HandRun NONE =
      new HandRun(Optional.empty(), Optional.empty(), Instant.MIN, Stops.ZERO);

  HandRun with(Event.ShotPlanned planned) {
    return new HandRun(planned.exposure(), dial, since, offset);
  }

  HandRun with(Event.DialAsked next, Instant at) {
    return new HandRun(asked, Optional.of(next), next.turns().isEmpty() ? since : at, offset);
  }

  HandRun with(Event.LapseBegan began) {
    return new HandRun(asked, dial, since, began.offset().orElse(offset));
  }

  /** Whether the photographer has not yet done what was asked. */
  boolean isOutstanding() {
    return dial.isPresent() && !dial.get().turns().isEmpty();
  }
}
