package org.scenespan.session;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.Deviation;
import org.scenespan.light.Stops;
import org.scenespan.plan.guard.Watched;
import org.scenespan.plan.hand.Advice;
import org.scenespan.plan.hand.Studio;

/** Tells a tether's photographer which dial to turn, where that is asked for. Pure. */
final class TetherByHand {
  private TetherByHand() {}

  /** After a frame that was held against the reference frame. */
  static void advise(Turn turn, TetherSetup setup) {
    TetherRun run = turn.state().tether();
    Optional<Watched> reference = run.held();
    if (setup.gear().hand().isEmpty() || reference.isEmpty()) {
      return;
    }
    List<Studio.Frame> since = new ArrayList<>();
    run.sinceReference().forEach(watched -> since.add(frame(watched)));
    Optional<Advice> advice =
        Studio.advice(
            setup.gear().hand().get(),
            new Stops(setup.levels().exposure().warn()),
            frame(reference.get()),
            since);
    advice.ifPresent(
        told ->
            turn.record(
                new Event.DialAsked(
                    run.frames().size() + 1, Event.DialStep.of(told.turns()), told.words())));
  }

  private static Studio.Frame frame(Watched watched) {
    return new Studio.Frame(
        watched.metadata().exposure(),
        watched.metadata().compensation(),
        watched.deviation().map(Deviation::exposure));
  }
}
