package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.plan.ramp.RampChoice;

/** What a lapse does next with all that it knows: fire, wait or end. */
record LapseCourse(Turn turn) {
  /** The alarm of frames that do not arrive. */
  static final String BLIND = "blind";

  /** Shots without a frame before it is said that they go blind. */
  private static final int BLIND_SHOTS = 3;

  /** Goes on with whatever is due. */
  void proceed() {
    giveUp();
    if (turn.state().isClosed() || end()) {
      return;
    }
    if (times().mayFire()) {
      fire();
    }
    if (!turn.state().isClosed()) {
      end();
    }
  }

  private LapseTimes times() {
    return new LapseTimes(turn.state());
  }

  private LapseSetup setup() {
    return (LapseSetup) turn.state().opened();
  }

  private LapseRun run() {
    return turn.state().lapse();
  }

  /** Shots whose frame did not come in time. */
  private void giveUp() {
    if (turn.state().folderLostAt().isPresent()) {
      return;
    }
    for (LapseShot shot : run().shots()) {
      if (shot.isAwaitingFrame() && !turn.now().isBefore(times().frame(shot))) {
        turn.record(
            new Event.ShotLost(
                shot.number(),
                "no frame of it came within "
                    + setup().patience().frame().toMillis() / 1000.0
                    + " s"));
      }
    }
  }

  private void fire() {
    if (run().start().isEmpty() && !begin()) {
      return;
    }
    int place = times().present(turn.now());
    if (place > run().lastPlace() + 1) {
      passOver(place - 1);
    }
    if (place > setup().cadence().frames()
        || isFirstAwaited()
        || turn.now().isBefore(times().due(place).minus(times().lead()))) {
      return;
    }
    boolean blind = isBlind();
    if (blind && !run().alarms().contains(BLIND)) {
      turn.record(
          new Event.AlarmRaised(
              BLIND,
              "No frame has come of the last "
                  + run().shotsSinceFrame()
                  + " shots: the exposures follow the forecast.",
              run().framedUntil()));
    }
    double seconds = setup().cadence().due(place).toNanos() / 1e9;
    RampChoice choice = run().ramp().orElseThrow().next(seconds);
    int number = run().lastShot() + 1;
    turn.record(
        new Event.ShotRamped(
            number,
            place,
            seconds,
            choice.exposure(),
            choice.wish(),
            choice.forecast(),
            choice.wanted(),
            blind,
            choice.why()));
    turn.record(new Event.ShotCommanded(number, 1, choice.exposure()));
    Instant due = times().due(place);
    turn.perform(
        new Effect.ReleaseAt(
            number,
            choice.exposure(),
            due.isBefore(turn.now()) ? turn.now() : due,
            times().latest(place)));
  }

  /**
   * Whether the only shot that may have been taken has no frame yet: the camera's clock is learned
   * from it, which no frame could teach if it might be of either of two.
   */
  private boolean isFirstAwaited() {
    return isOnlyOneFired() && run().shots().stream().anyMatch(LapseShot::isAwaitingFrame);
  }

  private boolean isOnlyOneFired() {
    return run().lastShot() - run().refused().size() == 1;
  }

  /** Lays the grid, if it is known how bright the scene may be. */
  private boolean begin() {
    Optional<Ev> believed = setup().start().or(() -> turn.state().metered());
    if (believed.isEmpty()) {
      return false;
    }
    RigCourse rig = new RigCourse(turn);
    if (!rig.isOver()) {
      rig.proceed(believed.get()).ifPresent(it -> close(it.stopped(), it.why()));
      if (!rig.isOver() || turn.state().isClosed()) {
        return false;
      }
    }
    turn.record(new Event.LapseBegan(turn.now().plus(times().lead()), believed.get()));
    return true;
  }

  private void passOver(int last) {
    int from = run().lastPlace() + 1;
    int to = Math.min(last, setup().cadence().frames());
    if (to >= from) {
      turn.record(new Event.PlacesSkipped(from, to, run().obstacle().orElseGet(() -> busy(from))));
    }
  }

  private String busy(int place) {
    boolean inTime =
        run().shots().stream()
            .allMatch(
                shot ->
                    shot.shot()
                        .answeredAt()
                        .filter(at -> at.isBefore(times().latest(place)))
                        .isPresent());
    if (!inTime) {
      return "the trigger was not done with the shot before";
    }
    return isOnlyOneFired()
        ? "the first frame was waited for, which teaches the camera's clock"
        : "this machine was asleep or too busy";
  }

  private boolean isBlind() {
    if (run().shotsSinceFrame() < BLIND_SHOTS) {
      return false;
    }
    Instant since = run().framedUntil().orElse(times().due(1));
    Duration bearable =
        setup().patience().frame().plus(setup().cadence().interval().multipliedBy(2));
    return turn.now().isAfter(since.plus(bearable));
  }

  /** Ends the session if the grid is over and no frame is waited for. */
  private boolean end() {
    if (!times().isGridOver(turn.now())) {
      return false;
    }
    passOver(setup().cadence().frames());
    boolean waits =
        run().shots().stream()
            .anyMatch(shot -> shot.isAwaitingFrame() || shot.shot().isAwaitingAnswer());
    if (waits && turn.now().isBefore(times().end())) {
      return true;
    }
    int frames = run().frames().size();
    if (turn.state().triggerLostAt().isPresent()) {
      close(Stopped.TRIGGER_FAILED, "The trigger was away when the lapse's time was over.");
    } else if (frames == 0 && !run().doubted().isEmpty()) {
      close(
          Stopped.FRAMES_MISSING,
          "Frames came, but none that proves of which shot it is; check the camera's clock, and give"
              + " the frames a longer interval to arrive in.");
    } else if (frames == 0) {
      close(
          Stopped.FRAMES_MISSING,
          "No frame came at all; check that the camera's files reach the hot folder, and that the"
              + " camera takes the trigger's settings.");
    } else if (turn.state().folderLostAt().isPresent()) {
      close(Stopped.FRAMES_MISSING, "The hot folder was gone when the lapse's time was over.");
    } else {
      close(Stopped.DONE, words(frames));
    }
    return true;
  }

  private String words(int frames) {
    int asked = setup().cadence().frames();
    if (frames >= asked) {
      return "All " + asked + " frames have come.";
    }
    int refused = run().refused().size();
    int lost = run().fired().size() - refused - frames;
    return frames
        + " of "
        + asked
        + " frames have come; "
        + lost
        + (lost == 1 ? " was lost, " : " were lost, ")
        + (run().skipped() + refused)
        + " not taken.";
  }

  void close(Stopped stopped, String why) {
    for (LapseRun.Waiting waiting : run().doubted()) {
      turn.record(
          new Event.FrameStray(
              waiting.frame().frame().file(), "no frame came that proves whose it is"));
    }
    turn.record(LapseAccounts.report(turn.state(), stopped, why, turn.now()));
    turn.perform(new Effect.Shut());
  }
}
