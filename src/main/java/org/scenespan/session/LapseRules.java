package org.scenespan.session;

import java.util.Optional;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Stops;

/** What each input means to a lapse: one turn's application of the rules. */
final class LapseRules {
  /** How often the meter is asked before a session without a start exposure is given up. */
  private static final int METER_TRIES = 3;

  private final Turn turn;
  private final LapseCourse course;

  LapseRules(Turn turn) {
    this.turn = turn;
    this.course = new LapseCourse(turn);
  }

  private LapseSetup setup() {
    return (LapseSetup) turn.state().opened();
  }

  private LapseRun run() {
    return turn.state().lapse();
  }

  void take(Input input) {
    State state = turn.state();
    if (input instanceof Input.Begun) {
      turn.record(new Event.SessionResumed());
      new RigCourse(turn).cutShort();
      turn.perform(new Effect.Greet());
    } else if (input instanceof Input.TriggerGreeted greeted) {
      triggerGreeted(greeted.identity());
    } else if (input instanceof Input.TriggerLost lost) {
      triggerLost(lost.reason());
    } else if (input instanceof Input.TriggerNoticed noticed) {
      turn.record(new Event.TriggerNoticed(noticed.kind(), noticed.text()));
      new LapseAlarms(turn).noticed();
    } else if (input instanceof Input.SpaceSeen space) {
      new LapseAlarms(turn).space(space);
    } else if (input instanceof Input.SceneMetered metered) {
      if (state.metered().isEmpty()) {
        turn.record(new Event.SceneMetered(metered.ev()));
      }
    } else if (input instanceof Input.MeterUnread unread) {
      meterUnread(unread.reason());
    } else if (input instanceof Input.ReleaseConfirmed confirmed) {
      answered(confirmed.shot(), new Event.ShotConfirmed(confirmed.shot()));
    } else if (input instanceof Input.ReleaseRefused refused) {
      new RigCourse(turn).refused(refused);
      answered(refused.shot(), new Event.ShotRefused(refused.shot(), refused.reason()));
    } else if (input instanceof Input.ReleaseUnconfirmed unconfirmed) {
      answered(
          unconfirmed.shot(), new Event.ShotUnconfirmed(unconfirmed.shot(), unconfirmed.reason()));
    } else if (input instanceof Input.FrameMeasured measured) {
      if (run().trial().isUnderWay()) {
        new RigCourse(turn).framed(measured);
      } else {
        frameMeasured(measured);
      }
    } else if (CommonRules.take(turn, input)) {
      // Whether anything goes on is looked at below, as after any input.
    } else if (input instanceof Input.StopAsked) {
      course.close(Stopped.ASKED, "You stopped the session.");
    } else if (!(input instanceof Input.ClockTicked)) {
      throw new IllegalArgumentException("no rule for " + input);
    }
    if (!turn.state().isClosed()) {
      course.proceed();
    }
  }

  private void triggerGreeted(String identity) {
    if (turn.state().identity().isEmpty()) {
      turn.record(new Event.TriggerGreeted(identity));
    }
    if (setup().needsMeter() && turn.state().metered().isEmpty()) {
      turn.perform(new Effect.ReadMeter());
    }
  }

  /** It is waited for however long it takes: the photographer is asleep. */
  private void triggerLost(String reason) {
    boolean first = turn.state().identity().isEmpty() && run().lastShot() == 0;
    boolean news = turn.state().triggerLostAt().isEmpty();
    if (news) {
      turn.record(new Event.TriggerLost(reason));
    }
    if (first && news) {
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
              + "); start again with a first shutter of your own, or with the place.");
    } else if (turn.state().identity().isPresent()) {
      turn.perform(new Effect.ReadMeter());
    }
  }

  private void answered(int number, Event event) {
    boolean waits = run().shot(number).filter(it -> it.shot().isAwaitingAnswer()).isPresent();
    if (waits) {
      turn.record(event);
    }
  }

  private void frameMeasured(Input.FrameMeasured measured) {
    FrameReading reading = measured.reading();
    Optional<Stops> level = measured.level();
    LapseMatching.Verdict verdict = LapseMatching.match(setup(), run(), reading, turn.now());
    if (verdict instanceof LapseMatching.Verdict.Stray stray) {
      turn.record(new Event.FrameStray(reading.file(), stray.reason()));
    } else if (verdict instanceof LapseMatching.Verdict.Doubted doubted) {
      if (run().doubted().size() >= LapseRun.MOST_DOUBTED) {
        leaveAlone(run().doubted().get(0).frame());
      }
      turn.record(
          new Event.FrameDoubted(
              doubted.shot(), LapseAccounts.brightness(level), doubted.reason(), reading));
    } else {
      found((LapseMatching.Verdict.Found) verdict, LapseAccounts.brightness(level), measured);
    }
  }

  private void found(
      LapseMatching.Verdict.Found found, Optional<Stops> brightness, Input.FrameMeasured measured) {
    for (LapseMatching.Resolved before : found.resolved()) {
      turn.record(
          LapseAccounts.matched(
              setup(),
              before.shot(),
              found.proof(),
              before.frame().brightness(),
              Optional.empty(),
              Steadiness.UNKNOWN,
              before.frame().frame()));
    }
    run().doubted().forEach(waiting -> leaveAlone(waiting.frame()));
    turn.record(
        LapseAccounts.matched(
            setup(),
            found.shot(),
            found.proof(),
            brightness,
            found.clock(),
            measured.steadiness(),
            measured.reading()));
    if (run().alarms().contains(LapseCourse.BLIND)) {
      turn.record(new Event.AlarmEnded(LapseCourse.BLIND, "Frames arrive again."));
    }
    new LapseAlarms(turn).framed();
  }

  private void leaveAlone(Event.FrameDoubted before) {
    turn.record(
        new Event.FrameStray(before.frame().file(), "the next frames did not prove whose it is"));
  }
}
