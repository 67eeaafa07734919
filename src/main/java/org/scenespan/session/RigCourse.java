package org.scenespan.session;

import java.util.List;
import java.util.Optional;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Latitude;
import org.scenespan.light.Rounding;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.Ramp;

/** The check of the rig in two frames before a lapse's grid is laid. */
record RigCourse(Turn turn) {
  /**
   * How far the two are off the lapse's first exposure, so that none of them passes for its first
   * frame if it comes late; the pair that camera and picture leave is taken.
   */
  private static final double[][] PAIRS = {
    {2.0 / 3, -1.0 / 3}, {4.0 / 3, 1.0 / 3}, {-1.0 / 3, -4.0 / 3}
  };

  private LapseSetup setup() {
    return (LapseSetup) turn.state().opened();
  }

  private RigTrial trial() {
    return turn.state().lapse().trial();
  }

  /** Whether the grid may be laid. */
  boolean isOver() {
    return setup().rigCheck() == RigCheck.OFF || trial().over();
  }

  /**
   * Goes on with it; it is not over.
   *
   * @param believed the scene's EV
   * @return why the session is to end, if it is
   */
  Optional<RigVerdict> proceed(Ev believed) {
    giveUp();
    int shots = trial().shots().size();
    if (trial().open().isPresent()) {
      return Optional.empty();
    }
    if (shots < RigTrial.SHOTS) {
      Exposure exposure = exposures(believed).get(shots);
      turn.record(new Event.RigShotCommanded(shots + 1, exposure));
      turn.perform(new Effect.Release(RigTrial.released(shots + 1), exposure));
      return Optional.empty();
    }
    RigVerdict verdict = RigVerdict.of(setup(), trial().shots());
    turn.record(new Event.RigChecked(verdict.findings()));
    return Optional.of(verdict).filter(it -> setup().rigCheck() == RigCheck.STRICT && it.isFatal());
  }

  private void giveUp() {
    trial()
        .open()
        .filter(shot -> !turn.now().isBefore(shot.latest(setup().patience())))
        .ifPresent(
            shot ->
                turn.record(
                    new Event.RigShotFailed(
                        shot.number(),
                        "no frame of it came within "
                            + setup().patience().frame().toMillis() / 1000.0
                            + " s")));
  }

  /** The darker one first. */
  private List<Exposure> exposures(Ev believed) {
    Latitude latitude = setup().latitude();
    Ev first = Ramp.start(setup().ramp(turn.now(), believed)).next(0).exposure().ev();
    for (double[] pair : PAIRS) {
      Ev darker = first.plus(new Stops(pair[0]));
      Ev brighter = first.plus(new Stops(pair[1]));
      if (latitude.canReach(darker) && latitude.canReach(brighter)) {
        return List.of(
            latitude.at(darker, Rounding.NEAREST), latitude.at(brighter, Rounding.NEAREST));
      }
    }
    return List.of(latitude.darkest(), latitude.brightest());
  }

  /** A frame came while it is under way. */
  void framed(Input.FrameMeasured measured) {
    FrameReading frame = measured.reading();
    Optional<RigTrial.RigShot> whose = whose(frame);
    if (whose.isEmpty()) {
      turn.record(new Event.FrameStray(frame.file(), "no shot of the rig check waits for it"));
      return;
    }
    turn.record(
        new Event.RigShotFramed(
            whose.get().number(),
            whose.get().after(turn.now()).toMillis() / 1000.0,
            LapseAccounts.brightness(measured.level()),
            measured.steadiness(),
            frame));
  }

  /** The one that waits; one that was given up only if the frame says that it has its settings. */
  private Optional<RigTrial.RigShot> whose(FrameReading frame) {
    Optional<Exposure> taken = frame.metadata().exposure();
    Optional<RigTrial.RigShot> alike =
        trial().shots().stream()
            .filter(it -> it.frame().isEmpty())
            .filter(it -> taken.filter(it.exposure()::isSameSetting).isPresent())
            .findFirst();
    return alike.or(trial()::open);
  }

  /** The trigger did not release. */
  void refused(Input.ReleaseRefused refused) {
    trial()
        .released(refused)
        .filter(RigTrial.RigShot::isOpen)
        .ifPresent(
            shot ->
                turn.record(
                    new Event.RigShotFailed(
                        shot.number(), "the trigger refused it: " + refused.reason())));
  }

  /** The program was not running in the middle of it: what it saw is not judged. */
  void cutShort() {
    if (trial().isUnderWay()) {
      turn.record(
          new Event.RigChecked(
              List.of(
                  new Event.RigFinding(
                      "cut-short",
                      Event.RigFinding.WARNING,
                      "The rig check was cut short when the program ended; it is not taken"
                          + " again."))));
    }
  }
}
