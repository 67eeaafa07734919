package org.scenespan.session;

import java.util.Optional;
import org.scenespan.light.Exposure;
import org.scenespan.plan.Decision;

/** What a bracket does next with all that it knows: release, wait or end. */
final class BracketCourse {
  private final Turn turn;

  /** What the plan last said, and of which state. */
  private Optional<Planned> answer = Optional.empty();

  private record Planned(State state, Decision decision) {}

  BracketCourse(Turn turn) {
    this.turn = turn;
  }

  /** Goes on with the next shot if everything that it needs is there. */
  void proceed() {
    State state = turn.state();
    if (state.isClosed() || state.held() || finish(false)) {
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

  /**
   * Ends the session if the plan wants no more frames; that needs neither trigger nor folder. For
   * raw files that are on their way it waits, unless it is to end at once.
   *
   * @return whether no more frames are wanted
   */
  boolean finish(boolean atOnce) {
    State state = turn.state();
    if (state.frames().isEmpty() || isShooting()) {
      return false;
    }
    Optional<Decision.Finish> end = isOwn() ? OwnBracket.end(state) : planned(state);
    boolean waits = !atOnce && Deadlines.raw(state, turn.now()).isPresent();
    if (end.isPresent() && !waits) {
      close(Stopped.of(end.get().ending()), end.get().why());
    }
    return end.isPresent();
  }

  private Optional<Decision.Finish> planned(State state) {
    return next(state) instanceof Decision.Finish finish ? Optional.of(finish) : Optional.empty();
  }

  /** What comes after the frames so far; whether it is an end is asked first, then what it is. */
  private Decision next(State state) {
    if (answer.isEmpty() || answer.get().state != state) {
      BracketSetup setup = state.bracket();
      answer =
          Optional.of(
              new Planned(
                  state, setup.plan().next(state.evidence(), state.overhead(), setup.known())));
    }
    return answer.get().decision;
  }

  private void decide(Optional<Shot> last) {
    State state = turn.state();
    int attempt = Accounts.nextAttempt(state);
    if (attempt > state.bracket().patience().retakes() + 1) {
      giveUp(last.orElseThrow());
    } else if (isOwn()) {
      if (Deadlines.late(state, turn.now()).isEmpty()) {
        turn.record(OwnBracket.planned(state, attempt));
        command(turn.state().shot(state.shots().size() + 1));
      }
    } else {
      decide(last, attempt);
    }
  }

  private void decide(Optional<Shot> last, int attempt) {
    State state = turn.state();
    BracketSetup setup = state.bracket();
    Decision decision =
        state.frames().isEmpty()
            ? setup.plan().first(setup.start(), setup.known().withMeter(state.metered()))
            : next(state);
    if (decision instanceof Decision.Finish finish) {
      close(Stopped.of(finish.ending()), finish.why());
      return;
    }
    Decision.Expose expose = (Decision.Expose) decision;
    boolean known = Matching.timesTellApart(state.clock(), setup.patience().frame());
    Exposure exposure =
        known && attempt <= Matching.ATTEMPTS_BY_CLOCK
            ? expose.exposure()
            : Retakes.distinct(expose.exposure(), state.shots(), setup.latitude());
    boolean failed = last.isPresent() && last.get().standing() != Shot.Standing.TAKEN;
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
    turn.record(new Event.ShotCommanded(shot.number(), shot.attempt(), shot.wanted()));
    Exposure exposure = shot.wanted().orElse(turn.state().bracket().latitude().brightest());
    turn.perform(new Effect.Release(shot.number(), exposure));
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
          isOwn()
              ? "No frame that is a release's came after "
                  + tries
                  + "; check that the camera's files reach the hot folder, and leave its clock"
                  + " alone."
              : "No frame of the commanded exposure came after "
                  + tries
                  + "; check that the camera takes the trigger's settings and that its files reach"
                  + " the hot folder.");
    }
  }

  void close(Stopped stopped, String why) {
    turn.record(Accounts.report(turn.state(), stopped, why, turn.now()));
    turn.perform(new Effect.Shut());
  }

  boolean isOwn() {
    return turn.state().opened().gear().own().isPresent();
  }
}
