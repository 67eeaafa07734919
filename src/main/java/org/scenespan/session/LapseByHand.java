package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.RampChoice;

/**
 * The rules of a lapse by hand: the camera's own timer fires, and the photographer is told seldom
 * which dial to turn, so that the exposure follows the light. The first frame says how bright the
 * picture is wanted, so that neither snow nor night is made grey; from there on the wish's curve
 * leads. Here it is told which frames count and when they are missing; {@link LapseDials} asks for
 * the turns. Pure.
 */
final class LapseByHand {
  /** Intervals without a frame before it is asked whether the timer still runs. */
  private static final int BLIND_INTERVALS = 3;

  private final Turn turn;

  private LapseByHand(Turn turn) {
    this.turn = turn;
  }

  static Step open(LapseSetup setup, Instant now) {
    Turn turn = new Turn(State.EMPTY, now);
    turn.record(new Event.SessionOpened(Session.VERSION, setup));
    new LapseDials(turn).askFirst();
    return turn.end();
  }

  static Step step(Turn turn, Input input) {
    LapseByHand rules = new LapseByHand(turn);
    rules.take(input);
    if (!turn.state().isClosed()) {
      rules.next().ifPresent(at -> turn.perform(new Effect.WakeAt(at)));
    }
    return turn.end();
  }

  private LapseSetup setup() {
    return (LapseSetup) turn.state().opened();
  }

  private LapseRun run() {
    return turn.state().lapse();
  }

  private void take(Input input) {
    if (input instanceof Input.Begun) {
      turn.record(new Event.SessionResumed());
    } else if (input instanceof Input.FrameMeasured measured) {
      frameMeasured(
          measured.reading(), LapseAccounts.brightness(measured.level()), measured.steadiness());
    } else if (input instanceof Input.RecordsHeld held) {
      new LapseAlarms(turn).held(held.reason());
    } else if (input instanceof Input.RecordsWritten) {
      new LapseAlarms(turn).written();
    } else if (input instanceof Input.SpaceSeen space) {
      new LapseAlarms(turn).space(space);
    } else if (input instanceof Input.StopAsked) {
      close(Stopped.ASKED, "You stopped the session.");
    } else if (!CommonRules.take(turn, input) && input instanceof Input.ClockTicked) {
      clockTicked();
    }
  }

  private void frameMeasured(
      FrameReading reading, Optional<Stops> brightness, Steadiness steadiness) {
    Optional<Exposure> taken =
        OwnMatching.exposure(reading.metadata(), setup().picture().aperture());
    Optional<String> no = refused(reading, taken, brightness);
    if (no.isPresent()) {
      turn.record(new Event.FrameStray(reading.file(), no.get()));
      return;
    }
    Ev scene = taken.get().ev().plus(brightness.get());
    if (run().start().isEmpty()) {
      Ev believed = setup().wish().sceneOf(taken.get().ev());
      turn.record(new Event.LapseBegan(turn.now(), believed, Optional.of(scene.minus(believed))));
    }
    Optional<LapseFrame> before = last();
    record(reading, taken.get(), brightness.get().minus(run().hand().offset()), steadiness);
    if (run().alarms().contains(LapseCourse.BLIND)) {
      turn.record(new Event.AlarmEnded(LapseCourse.BLIND, "Frames arrive again."));
    }
    if (run().lastPlace() >= setup().cadence().frames()) {
      close(Stopped.DONE, run().frames().size() + " frames have come.");
    } else if (!turn.state().held()) {
      new LapseDials(turn).advise(reading, taken.get(), before);
    }
  }

  private Optional<LapseFrame> last() {
    List<LapseFrame> frames = run().frames().list();
    return frames.isEmpty() ? Optional.empty() : Optional.of(frames.get(frames.size() - 1));
  }

  /** Why a frame is left alone, if it is. */
  private Optional<String> refused(
      FrameReading reading, Optional<Exposure> taken, Optional<Stops> brightness) {
    Optional<LapseShot.Press> press = LapseShot.Press.of(reading);
    Optional<LapseShot.Press> before = press().filter(it -> press.isPresent());
    if (taken.isEmpty()) {
      return Optional.of("it does not say its shutter and ISO, so its light cannot be told");
    }
    if (brightness.isEmpty()) {
      return Optional.of("its part of the picture shows no light at all");
    }
    if (before.isPresent() && before.get().isSame(press.get())) {
      return Optional.of("it is of the same shutter press as the frame before");
    }
    if (before.isPresent()
        && press.get().captured().asInstant().isBefore(before.get().captured().asInstant())) {
      return Optional.of("it was taken before the frame before it");
    }
    boolean nameless = press.isEmpty() && run().files().list().contains(reading.file());
    return nameless ? Optional.of("a file of this name was already dealt with") : Optional.empty();
  }

  /** Of the latest frame that is here. */
  private Optional<LapseShot.Press> press() {
    List<LapseShot> shots = run().shots();
    return shots.isEmpty() ? Optional.empty() : shots.get(shots.size() - 1).press();
  }

  private void record(
      FrameReading reading, Exposure taken, Stops brightness, Steadiness steadiness) {
    int place = run().lastPlace() + passed(reading);
    if (place > run().lastPlace() + 1) {
      turn.record(
          new Event.PlacesSkipped(run().lastPlace() + 1, place - 1, "no frame came for so long"));
    }
    double seconds = setup().cadence().due(place).toNanos() / 1e9;
    RampChoice choice = run().ramp().orElseThrow().next(seconds, taken);
    int number = run().lastShot() + 1;
    turn.record(
        new Event.ShotRamped(
            number,
            place,
            seconds,
            taken,
            choice.wish(),
            choice.forecast(),
            choice.wanted(),
            false,
            choice.why()));
    turn.record(
        new Event.FrameMatched(
            number,
            Match.Proof.ARRIVAL,
            false,
            taken,
            Optional.of(brightness),
            LapseAccounts.headroom(reading.measure(), setup().wish().mostClipped()),
            Optional.empty(),
            steadiness,
            reading));
  }

  /**
   * How many places of the grid a frame is after the one before: one, unless frames are missing.
   */
  private int passed(FrameReading reading) {
    List<LapseShot> shots = run().shots();
    if (shots.isEmpty()) {
      return 1;
    }
    LapseShot last = shots.get(shots.size() - 1);
    Optional<LapseShot.Press> press = LapseShot.Press.of(reading);
    Duration gap =
        last.press().isPresent() && press.isPresent()
            ? Duration.between(
                last.press().get().captured().asInstant(), press.get().captured().asInstant())
            : Duration.between(last.shot().framedAt().orElse(turn.now()), turn.now());
    double places = gap.toMillis() / 1e3 / setup().cadence().intervalSeconds();
    int left = setup().cadence().frames() - run().lastPlace();
    // Timers are not exact: less than two whole intervals is one.
    return places < 1.75 ? 1 : (int) Math.max(1, Math.min(left, Math.round(places)));
  }

  /** The end, or when frames have been missing for so long that it is told. */
  private Optional<Instant> next() {
    if (run().start().isEmpty()) {
      return Optional.empty();
    }
    Instant end = end();
    Instant blind = blindAt();
    boolean told = run().alarms().contains(LapseCourse.BLIND) || turn.state().held();
    return Optional.of(told || end.isBefore(blind) ? end : blind)
        .filter(at -> at.isAfter(turn.now()));
  }

  private Instant lastFrameAt() {
    List<LapseShot> shots = run().shots();
    return shots.get(shots.size() - 1).shot().framedAt().orElse(turn.now());
  }

  private Instant blindAt() {
    return lastFrameAt()
        .plus(setup().cadence().interval().multipliedBy(BLIND_INTERVALS))
        .plus(setup().patience().frame());
  }

  private Instant end() {
    return run()
        .start()
        .orElseThrow()
        .plus(setup().cadence().due(setup().cadence().frames()))
        .plus(setup().cadence().interval().multipliedBy(BLIND_INTERVALS))
        .plus(setup().patience().frame())
        .plus(setup().patience().outage());
  }

  private void clockTicked() {
    if (run().start().isEmpty()) {
      return;
    }
    if (!turn.now().isBefore(end())) {
      close(Stopped.DONE, run().frames().size() + " frames have come in the lapse's time.");
    } else if (!turn.now().isBefore(blindAt())
        && !run().alarms().contains(LapseCourse.BLIND)
        && !turn.state().held()) {
      turn.record(
          new Event.AlarmRaised(
              LapseCourse.BLIND,
              String.format(
                  Locale.ROOT,
                  "No frame has come for %d s: does the camera's timer still run, and do its files"
                      + " reach the folder?",
                  Duration.between(lastFrameAt(), turn.now()).toSeconds()),
              Optional.of(lastFrameAt())));
    }
  }

  private void close(Stopped stopped, String why) {
    turn.record(LapseAccounts.report(turn.state(), stopped, why, turn.now()));
    turn.perform(new Effect.Shut());
  }
}
