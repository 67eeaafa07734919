package org.scenespan.session;

import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Rounding;
import org.scenespan.light.Stops;
import org.scenespan.plan.Decision;
import org.scenespan.plan.SpanEstimate;
import org.scenespan.plan.hand.Advice;
import org.scenespan.plan.hand.Hand;

/**
 * The rules of a bracket by hand: no trigger; the photographer is told which dial to turn, which
 * way and how far, and the next frame's own metadata proves it. Whatever comes counts by what it
 * was really taken with, and the next advice starts from there. Nobody is hurried: no frame is ever
 * given up. Pure.
 */
final class HandSession {
  /** Off by more than this, a frame of a camera that meters by itself was not taken as asked. */
  private static final double AS_ASKED = 0.5;

  private final Turn turn;

  private HandSession(Turn turn) {
    this.turn = turn;
  }

  static Step open(BracketSetup setup, Instant now) {
    Turn turn = new Turn(State.EMPTY, now);
    turn.record(new Event.SessionOpened(Session.VERSION, setup));
    new HandSession(turn).proceed("");
    return turn.end();
  }

  static Step step(State state, Input input, Instant now) {
    Turn turn = new Turn(state, now);
    if (!state.isClosed()) {
      new HandSession(turn).take(input);
    }
    return turn.end();
  }

  private void take(Input input) {
    State state = turn.state();
    if (input instanceof Input.Begun) {
      turn.record(new Event.SessionResumed());
      estimate();
      proceed("");
    } else if (input instanceof Input.FrameMeasured measured) {
      frameMeasured(measured.reading());
    } else if (CommonRules.take(turn, input)) {
      if (state.held() && input instanceof Input.ContinueAsked) {
        proceed("");
      }
    } else if (input instanceof Input.StopAsked) {
      close(Stopped.ASKED, "You stopped the session.");
    }
  }

  private void frameMeasured(FrameReading reading) {
    State state = turn.state();
    if (BracketRules.isOldNews(state, reading)) {
      stray(reading, "a file of this name was already dealt with");
      return;
    }
    Optional<Event.FrameAccepted> same = SamePress.of(reading, state.frames());
    if (same.isPresent()) {
      samePress(same.get(), reading);
      return;
    }
    Optional<Exposure> taken =
        OwnMatching.exposure(reading.metadata(), state.bracket().picture().aperture());
    Optional<Shot> awaited = state.awaited();
    if (taken.isEmpty()) {
      stray(reading, "it does not say its shutter and ISO, so its light cannot be told");
      return;
    }
    if (awaited.isEmpty()) {
      stray(reading, "no frame is being waited for");
      return;
    }
    String wrong =
        awaited.get().wanted().flatMap(wanted -> wrongTurn(taken.get(), wanted)).orElse("");
    Match.Proof proof = wrong.isEmpty() ? Match.Proof.EXPOSURE : Match.Proof.ARRIVAL;
    turn.record(
        Accounts.accepted(
            state.bracket(), new Match.Found(awaited.get(), proof, Optional.empty()), reading));
    FramePairs.tellDrift(turn, state.frames());
    estimate();
    proceed(wrong);
  }

  private void stray(FrameReading reading, String why) {
    turn.record(new Event.FrameStray(reading.file(), why));
  }

  private void samePress(Event.FrameAccepted accepted, FrameReading reading) {
    State state = turn.state();
    BracketSetup setup = state.bracket();
    if (setup.gear().raw() && SamePress.refines(reading, accepted.frame())) {
      turn.record(Accounts.refined(setup, accepted, reading));
      FramePairs.tellDrift(turn, state.frames());
      estimate();
      proceed("");
    } else {
      stray(
          reading,
          "it is of the same shutter press as "
              + accepted.frame().file()
              + ", which is measured already");
    }
  }

  /** What was done instead of what was asked, if it was. */
  private Optional<String> wrongTurn(Exposure taken, Exposure wanted) {
    if (!hand().meters()) {
      return hand().isSameSetting(taken, wanted)
          ? Optional.empty()
          : Optional.of("That was " + taken + ", not " + wanted + ". ");
    }
    Stops off = wanted.ev().minus(taken.ev());
    return Math.abs(off.value()) <= AS_ASKED
        ? Optional.empty()
        : Optional.of(
            String.format(
                Locale.ROOT,
                "That came out %.1f stops %s than asked. ",
                Math.abs(off.value()),
                off.value() > 0 ? "brighter" : "darker"));
  }

  private void estimate() {
    State state = turn.state();
    if (!state.frames().isEmpty()) {
      turn.record(
          new Event.SpanEstimated(
              SpanEstimate.of(state.bracket().goal(), state.bracket().noise(), state.evidence())));
    }
  }

  /**
   * Asks for the next frame, or ends.
   *
   * @param wrong what was done instead of what was asked; empty if nothing was
   */
  private void proceed(String wrong) {
    State state = turn.state();
    if (state.isClosed() || state.held()) {
      return;
    }
    BracketSetup setup = state.bracket();
    if (!state.frames().isEmpty()) {
      Decision decision = setup.plan().next(state.evidence(), Optional.empty(), setup.known());
      if (decision instanceof Decision.Finish finish) {
        close(Stopped.of(finish.ending()), finish.why());
        return;
      }
      ask(Optional.of((Decision.Expose) decision), wrong);
    } else if (setup.start().isPresent()) {
      Decision first = setup.plan().first(setup.start(), setup.known());
      ask(Optional.of((Decision.Expose) first), wrong);
    } else {
      ask(Optional.empty(), wrong);
    }
  }

  private void ask(Optional<Decision.Expose> decided, String wrong) {
    State state = turn.state();
    Optional<Exposure> wanted = decided.map(Decision.Expose::exposure).map(this::within);
    int number = state.awaited().map(Shot::number).orElse(state.shots().size() + 1);
    if (state.awaited().isEmpty() || !state.awaited().get().wanted().equals(wanted)) {
      turn.record(
          new Event.ShotPlanned(
              number,
              1,
              wanted,
              decided
                  .map(Decision.Expose::why)
                  .orElse("One frame as the camera meters it tells what the scene needs."),
              decided.map(Decision.Expose::settles).orElse("what the camera's own meter finds"),
              decided.map(Decision.Expose::framesLeft).orElse(1),
              Optional.empty()));
      turn.record(new Event.ShotCommanded(number, 1, wanted));
    }
    Advice advice = advice(wanted);
    turn.record(
        new Event.DialAsked(number, Event.DialStep.of(advice.turns()), wrong + advice.words()));
  }

  /** As near to what is wanted as the next frame can come. */
  private Exposure within(Exposure wanted) {
    State state = turn.state();
    if (state.frames().isEmpty()) {
      return wanted;
    }
    Event.FrameAccepted last = state.frames().get(state.frames().size() - 1);
    Ev near =
        Advice.within(hand(), last.exposure(), last.frame().metadata().compensation(), wanted.ev());
    return near.equals(wanted.ev())
        ? wanted
        : state.bracket().latitude().at(near, Rounding.NEAREST);
  }

  private Advice advice(Optional<Exposure> wanted) {
    State state = turn.state();
    BracketSetup setup = state.bracket();
    List<Event.FrameAccepted> frames = state.frames();
    if (frames.isEmpty() || wanted.isEmpty()) {
      return Advice.first(hand(), wanted, setup.picture().aperture(), setup.camera().lowestIso());
    }
    Event.FrameAccepted last = frames.get(frames.size() - 1);
    FrameMetadata said = last.frame().metadata();
    return Advice.turn(hand(), last.exposure(), said.compensation(), wanted.get());
  }

  private Hand hand() {
    return turn.state().opened().gear().hand().orElseThrow();
  }

  private void close(Stopped stopped, String why) {
    turn.record(Accounts.report(turn.state(), stopped, why, turn.now()));
    turn.perform(new Effect.Shut());
  }
}
