package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.frame.FrameReading;
import org.scenespan.plan.SpanEstimate;

/** What each input means to a bracket: one turn's application of the rules. */
final class BracketRules {
  /** How often the meter is asked before a session without a start exposure is given up. */
  private static final int METER_TRIES = 3;

  private final Turn turn;
  private final BracketCourse course;

  BracketRules(Turn turn) {
    this.turn = turn;
    this.course = new BracketCourse(turn);
  }

  void take(Input input) {
    if (input instanceof Input.Begun) {
      turn.record(new Event.SessionResumed());
      estimate();
      turn.perform(new Effect.Greet());
    } else if (input instanceof Input.ClockTicked) {
      clockTicked();
    } else if (input instanceof Input.TriggerGreeted greeted) {
      triggerGreeted(greeted.identity());
    } else if (input instanceof Input.TriggerLost lost) {
      triggerLost(lost.reason());
    } else if (input instanceof Input.TriggerNoticed noticed) {
      turn.record(new Event.TriggerNoticed(noticed.kind(), noticed.text()));
    } else if (input instanceof Input.SceneMetered metered) {
      if (turn.state().metered().isEmpty()) {
        turn.record(new Event.SceneMetered(metered.ev()));
      }
      course.proceed();
    } else if (input instanceof Input.MeterUnread unread) {
      meterUnread(unread.reason());
    } else if (input instanceof Input.ReleaseConfirmed confirmed) {
      answered(confirmed.shot(), new Event.ShotConfirmed(confirmed.shot()));
    } else if (input instanceof Input.ReleaseRefused refused) {
      answered(refused.shot(), new Event.ShotRefused(refused.shot(), refused.reason()));
    } else if (input instanceof Input.ReleaseUnconfirmed unconfirmed) {
      answered(
          unconfirmed.shot(), new Event.ShotUnconfirmed(unconfirmed.shot(), unconfirmed.reason()));
    } else if (input instanceof Input.FrameMeasured measured) {
      frameMeasured(measured.reading());
    } else if (CommonRules.take(turn, input)) {
      if (input instanceof Input.FolderReturned || input instanceof Input.ContinueAsked) {
        course.proceed();
      }
    } else if (input instanceof Input.StopAsked) {
      course.close(Stopped.ASKED, "You stopped the session.");
    } else {
      throw new IllegalArgumentException("no rule for " + input);
    }
  }

  private void triggerGreeted(String identity) {
    if (turn.state().identity().isEmpty()) {
      turn.record(new Event.TriggerGreeted(identity));
    }
    BracketSetup setup = turn.state().bracket();
    if (setup.needsMeter() && turn.state().metered().isEmpty()) {
      turn.perform(new Effect.ReadMeter());
    } else {
      course.proceed();
    }
  }

  private void triggerLost(String reason) {
    boolean everGreeted =
        turn.state().identity().isPresent()
            || !turn.state().shots().isEmpty()
            || turn.state().triggerLostAt().isPresent();
    if (turn.state().triggerLostAt().isEmpty()) {
      turn.record(new Event.TriggerLost(reason));
    }
    if (!everGreeted) {
      course.close(Stopped.TRIGGER_FAILED, "The trigger does not answer: " + reason);
    }
  }

  private void meterUnread(String reason) {
    turn.record(new Event.MeterUnread(reason));
    if (turn.state().meterFailures() >= METER_TRIES) {
      course.close(
          Stopped.TRIGGER_FAILED,
          "The meter could not be read ("
              + reason
              + "); start again with a first exposure of your own.");
    } else if (turn.state().identity().isPresent()) {
      turn.perform(new Effect.ReadMeter());
    }
  }

  private void answered(int number, Event event) {
    boolean known = number >= 1 && number <= turn.state().shots().size();
    if (known && turn.state().shot(number).isAwaitingAnswer()) {
      turn.record(event);
    }
    course.proceed();
  }

  private void frameMeasured(FrameReading reading) {
    State state = turn.state();
    if (isOldNews(state, reading)) {
      turn.record(
          new Event.FrameStray(reading.file(), "a file of this name was already dealt with"));
      return;
    }
    Optional<Event.FrameAccepted> same = SamePress.of(reading, state.frames());
    if (same.isPresent()) {
      samePress(same.get(), reading);
      return;
    }
    Match match =
        course.isOwn()
            ? OwnMatching.match(reading.metadata(), state, turn.now())
            : Matching.match(reading.metadata(), state.shots(), state.clock(), turn.now());
    if (match instanceof Match.Stray stray) {
      turn.record(new Event.FrameStray(reading.file(), stray.reason()));
      return;
    }
    Match.Found found = (Match.Found) match;
    turn.record(Accounts.accepted(state.bracket(), found, reading));
    FramePairs.tellDrift(turn, state.frames());
    estimate();
    course.proceed();
  }

  /** Another file of a shutter press that has its frame is never a second frame. */
  private void samePress(Event.FrameAccepted accepted, FrameReading reading) {
    State state = turn.state();
    BracketSetup setup = state.bracket();
    if (setup.gear().raw() && SamePress.refines(reading, accepted.frame())) {
      turn.record(Accounts.refined(setup, accepted, reading));
      FramePairs.tellDrift(turn, state.frames());
      estimate();
      course.proceed();
    } else {
      turn.record(
          new Event.FrameStray(
              reading.file(),
              "it is of the same shutter press as "
                  + accepted.frame().file()
                  + ", which is measured already"));
    }
  }

  /** What the frames tell together; when resumed, too, since the last record may be missing. */
  private void estimate() {
    State state = turn.state();
    if (!state.frames().isEmpty()) {
      turn.record(
          new Event.SpanEstimated(
              SpanEstimate.of(state.bracket().goal(), state.bracket().noise(), state.evidence())));
    }
  }

  /**
   * Whether a file was dealt with before. A name alone does not say so: on a new card a camera
   * begins its numbers again. A file that does not say how it was taken has nothing but its name.
   */
  static boolean isOldNews(State state, FrameReading reading) {
    return state.seen().contains(reading.file())
        && (reading.metadata().exposure().isEmpty()
            || reading.metadata().capturedAt().isEmpty()
            || state.frames().stream()
                .map(Event.FrameAccepted::frame)
                .anyMatch(
                    known ->
                        known.file().equals(reading.file())
                            && SamePress.isAlike(known.metadata(), reading.metadata(), false)));
  }

  private void clockTicked() {
    State state = turn.state();
    Optional<Shot> awaited = state.awaited();
    if (awaited.isPresent()
        && state.folderLostAt().isEmpty()
        && !turn.now().isBefore(Deadlines.frame(state, awaited.get()))) {
      turn.record(
          new Event.ShotLost(awaited.get().number(), OwnBracket.lostWords(state, awaited.get())));
    }
    Duration outage = state.bracket().patience().outage();
    boolean triggerOver = isOver(state.triggerLostAt(), outage);
    boolean folderOver = isOver(state.folderLostAt(), outage);
    if ((triggerOver || folderOver) && course.finish(true)) {
      return;
    }
    if (triggerOver) {
      course.close(
          Stopped.TRIGGER_FAILED, "The trigger was gone for " + outage.toSeconds() + " s.");
    } else if (folderOver) {
      course.close(
          Stopped.FRAMES_MISSING, "The hot folder was gone for " + outage.toSeconds() + " s.");
    } else {
      course.proceed();
    }
  }

  private boolean isOver(Optional<Instant> since, Duration patience) {
    return since.isPresent() && !turn.now().isBefore(since.get().plus(patience));
  }
}
