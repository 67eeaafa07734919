package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Exposure;
import org.scenespan.plan.Decision;
import org.scenespan.plan.SpanEstimate;

/**
 * The rules of a bracket: from state, an input and the time to events and effects. Pure; the same
 * inputs give the same session, whether they come from real parts or from simulated ones.
 */
final class BracketSession {
  /** How often the meter is asked before a session without a start exposure is given up. */
  private static final int METER_TRIES = 3;

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
    new Rules(turn).take(input);
    if (!turn.state().isClosed()) {
      Deadlines.next(turn.state()).ifPresent(due -> turn.perform(new Effect.WakeAt(due)));
    }
    return turn.end();
  }

  /** One turn's application of the rules. */
  private record Rules(Turn turn) {
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
        proceed();
      } else if (input instanceof Input.MeterUnread unread) {
        meterUnread(unread.reason());
      } else if (input instanceof Input.ReleaseConfirmed confirmed) {
        answered(confirmed.shot(), new Event.ShotConfirmed(confirmed.shot()));
      } else if (input instanceof Input.ReleaseRefused refused) {
        answered(refused.shot(), new Event.ShotRefused(refused.shot(), refused.reason()));
      } else if (input instanceof Input.ReleaseUnconfirmed unconfirmed) {
        answered(
            unconfirmed.shot(),
            new Event.ShotUnconfirmed(unconfirmed.shot(), unconfirmed.reason()));
      } else if (input instanceof Input.FrameMeasured measured) {
        frameMeasured(measured.reading());
      } else if (input instanceof Input.FrameUnreadable unreadable) {
        turn.record(new Event.FrameSkipped(unreadable.file(), unreadable.reason()));
      } else if (input instanceof Input.FolderLost lost) {
        if (turn.state().folderLostAt().isEmpty()) {
          turn.record(new Event.FolderLost(lost.reason()));
        }
      } else if (input instanceof Input.FolderReturned) {
        if (turn.state().folderLostAt().isPresent()) {
          turn.record(new Event.FolderReturned());
        }
        proceed();
      } else if (input instanceof Input.HoldAsked) {
        if (!turn.state().held()) {
          turn.record(new Event.SessionHeld());
        }
      } else if (input instanceof Input.ContinueAsked) {
        if (turn.state().held()) {
          turn.record(new Event.SessionContinued());
        }
        proceed();
      } else if (input instanceof Input.StopAsked) {
        close(Stopped.ASKED, "You stopped the session.");
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
        proceed();
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
        close(Stopped.TRIGGER_FAILED, "The trigger does not answer: " + reason);
      }
    }

    private void meterUnread(String reason) {
      turn.record(new Event.MeterUnread(reason));
      if (turn.state().meterFailures() >= METER_TRIES) {
        close(
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
      proceed();
    }

    private void frameMeasured(FrameReading reading) {
      State state = turn.state();
      if (isOldNews(reading)) {
        turn.record(
            new Event.FrameStray(reading.file(), "a file of this name was already dealt with"));
        return;
      }
      Match match = Matching.match(reading.metadata(), state.shots(), state.clock(), turn.now());
      if (match instanceof Match.Stray stray) {
        turn.record(new Event.FrameStray(reading.file(), stray.reason()));
        return;
      }
      Match.Found found = (Match.Found) match;
      turn.record(Accounts.accepted(state.bracket(), found, reading));
      new FramePairs(turn.state().frames())
          .driftToTell()
          .ifPresent(
              drift -> turn.record(new Event.LightDrifted(drift, Accounts.driftWords(drift))));
      estimate();
      proceed();
    }

    /** What the frames tell together; when resumed, too, since the last record may be missing. */
    private void estimate() {
      State state = turn.state();
      if (!state.frames().isEmpty()) {
        turn.record(
            new Event.SpanEstimated(
                SpanEstimate.of(
                    state.bracket().goal(), state.bracket().noise(), state.evidence())));
      }
    }

    /**
     * Whether a file was dealt with before. A name alone does not say so: on a new card a camera
     * begins its numbers again. A file that does not say how it was taken has nothing but its name.
     */
    private boolean isOldNews(FrameReading reading) {
      State state = turn.state();
      return state.seen().contains(reading.file())
          && (reading.metadata().exposure().isEmpty()
              || reading.metadata().capturedAt().isEmpty()
              || state.frames().stream()
                  .map(Event.FrameAccepted::frame)
                  .anyMatch(
                      known ->
                          known.file().equals(reading.file())
                              && known.metadata().equals(reading.metadata())));
    }

    private void clockTicked() {
      State state = turn.state();
      Optional<Shot> awaited = state.awaited();
      if (awaited.isPresent()
          && state.folderLostAt().isEmpty()
          && !turn.now().isBefore(Deadlines.frame(state, awaited.get()))) {
        turn.record(new Event.ShotLost(awaited.get().number(), "no frame of it came in time"));
      }
      Duration outage = state.bracket().patience().outage();
      boolean triggerOver = isOver(state.triggerLostAt(), outage);
      boolean folderOver = isOver(state.folderLostAt(), outage);
      if ((triggerOver || folderOver) && finish()) {
        return;
      }
      if (triggerOver) {
        close(Stopped.TRIGGER_FAILED, "The trigger was gone for " + outage.toSeconds() + " s.");
      } else if (folderOver) {
        close(Stopped.FRAMES_MISSING, "The hot folder was gone for " + outage.toSeconds() + " s.");
      } else {
        proceed();
      }
    }

    private boolean isOver(Optional<Instant> since, Duration patience) {
      return since.isPresent() && !turn.now().isBefore(since.get().plus(patience));
    }

    /** Goes on with the next shot if everything that it needs is there. */
    private void proceed() {
      State state = turn.state();
      if (state.isClosed() || state.held() || finish()) {
        return;
      }
      boolean meterDue = state.bracket().needsMeter() && state.metered().isEmpty();
      if (state.identity().isEmpty()
          || state.folderLostAt().isPresent()
          || meterDue
          || isShooting()) {
        return;
      }
      Optional<Shot> last =
          state.shots().isEmpty()
              ? Optional.empty()
              : Optional.of(state.shots().get(state.shots().size() - 1));
      if (last.isPresent() && last.get().standing() == Shot.Standing.PLANNED) {
        command(last.get());
        return;
      }
      if (last.isPresent() && last.get().standing() == Shot.Standing.REFUSED) {
        if (turn.now().isBefore(Deadlines.afterRefusal(last.get()))) {
          return;
        }
      }
      decide(last);
    }

    private boolean isShooting() {
      State state = turn.state();
      return state.awaited().isPresent() || state.shots().stream().anyMatch(Shot::isAwaitingAnswer);
    }

    /** Ends the session if the plan wants no more frames; that needs neither trigger nor folder. */
    private boolean finish() {
      State state = turn.state();
      if (state.frames().isEmpty() || isShooting()) {
        return false;
      }
      if (state.bracket().plan().next(state.evidence(), state.overhead(), state.bracket().known())
          instanceof Decision.Finish finish) {
        close(Stopped.of(finish.ending()), finish.why());
        return true;
      }
      return false;
    }

    /** Whether a frame came in since a shot was decided on, be it a late one of an earlier shot. */
    private boolean cameForward(Shot since) {
      return turn.state().shots().stream()
          .filter(shot -> shot.standing() == Shot.Standing.TAKEN)
          .flatMap(shot -> shot.settledAt().stream())
          .anyMatch(at -> at.isAfter(since.plannedAt()));
    }

    private void decide(Optional<Shot> last) {
      State state = turn.state();
      BracketSetup setup = state.bracket();
      Decision decision =
          state.frames().isEmpty()
              ? setup.plan().first(setup.start(), setup.known().withMeter(state.metered()))
              : setup.plan().next(state.evidence(), state.overhead(), setup.known());
      if (decision instanceof Decision.Finish finish) {
        close(Stopped.of(finish.ending()), finish.why());
        return;
      }
      Decision.Expose expose = (Decision.Expose) decision;
      boolean failed = last.isPresent() && last.get().standing() != Shot.Standing.TAKEN;
      int attempt = failed && !cameForward(last.get()) ? last.get().attempt() + 1 : 1;
      if (attempt > setup.patience().retakes() + 1) {
        giveUp(last.get());
        return;
      }
      boolean known = Matching.timesTellApart(state.clock(), setup.patience().frame());
      Exposure exposure =
          known && attempt <= Matching.ATTEMPTS_BY_CLOCK
              ? expose.exposure()
              : Retakes.distinct(expose.exposure(), state.shots(), setup.latitude());
      String why =
          failed
              ? "Shot " + last.get().number() + " brought no frame; take it again. " + expose.why()
              : expose.why();
      int number = state.shots().size() + 1;
      turn.record(
          new Event.ShotPlanned(
              number,
              attempt,
              exposure,
              why,
              expose.settles(),
              expose.framesLeft(),
              Accounts.secondsLeft(expose, state.overhead())));
      command(turn.state().shot(number));
    }

    private void command(Shot shot) {
      turn.record(new Event.ShotCommanded(shot.number(), shot.attempt(), shot.exposure()));
      turn.perform(new Effect.Release(shot.number(), shot.exposure()));
    }

    private void giveUp(Shot last) {
      String tries = last.attempt() + (last.attempt() == 1 ? " try" : " tries");
      if (last.standing() == Shot.Standing.REFUSED) {
        close(
            Stopped.TRIGGER_FAILED,
            "The trigger refused shot " + last.number() + " after " + tries + ".");
      } else {
        close(
            Stopped.FRAMES_MISSING,
            "No frame of the commanded exposure came after "
                + tries
                + "; check that the camera takes the trigger's settings and that its files reach"
                + " the hot folder.");
      }
    }

    private void close(Stopped stopped, String why) {
      turn.record(Accounts.report(turn.state(), stopped, why, turn.now()));
      turn.perform(new Effect.Shut());
    }
  }
}
