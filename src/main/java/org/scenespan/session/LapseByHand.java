package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.plan.hand.Advice;
import org.scenespan.plan.hand.DialRange;
import org.scenespan.plan.hand.DialTurn;
import org.scenespan.plan.hand.Hand;
import org.scenespan.plan.hand.Pace;
import org.scenespan.plan.ramp.RampChoice;

/**
 * The rules of a lapse by hand: the camera's own timer fires, and the photographer is told seldom
 * which dial to turn, so that the exposure follows the light. The first frame says how bright the
 * picture is wanted, so that neither snow nor night is made grey; from there on the wish's curve
 * leads. The next frame's own metadata proves each turn. Pure.
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
    new LapseByHand(turn).askFirst();
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

  private Hand hand() {
    return setup().gear().hand().orElseThrow();
  }

  private Pace pace() {
    return new Pace(hand().clicksAStop(), setup().cadence().interval());
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

  private void askFirst() {
    String words =
        String.format(
            Locale.ROOT,
            "Set the camera's own timer to a frame every %s s, %s, and the exposure so that the"
                + " first frame is as bright as you want the picture: the others follow it. Then"
                + " start the timer.",
            String.format(Locale.ROOT, "%.3f", setup().cadence().intervalSeconds())
                .replaceFirst("\\.?0+$", ""),
            switch (hand().mode()) {
              case MANUAL -> "manual exposure, a fixed aperture and a fixed white balance";
              case APERTURE_PRIORITY -> "a fixed aperture and a fixed white balance";
              case SHUTTER_PRIORITY, AUTOMATIC_ISO -> "a fixed shutter and a fixed white balance";
            });
    turn.record(new Event.DialAsked(1, List.of(), words));
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
      advise(reading, taken.get(), before);
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

  /**
   * Asks for a turn if one is due, and tells what came of the last.
   *
   * @param before the frame before, if there is one
   */
  private void advise(FrameReading reading, Exposure taken, Optional<LapseFrame> before) {
    Optional<Stops> compensation = reading.metadata().compensation();
    HandRun asked = run().hand();
    Outcome outcome =
        asked.isOutstanding() ? outcome(taken, compensation, before) : Outcome.NOTHING_ASKED;
    double next = setup().cadence().due(run().lastPlace() + 1).toNanos() / 1e9;
    double ahead = pace().pause().toMillis() / 2e3;
    Ev aim = run().ramp().orElseThrow().next(next + ahead, taken).wanted();
    RampChoice choice = run().ramp().orElseThrow().next(next, taken);
    Stops error = choice.wanted().minus(taken.ev());
    boolean due = pace().isDue(error, Duration.between(asked.since(), turn.now()));
    switch (outcome) {
      case DONE -> tell("Right: " + shown(taken, compensation) + ". Leave the dials.");
      case WRONG ->
          ask(
              taken,
              compensation,
              aim,
              choice,
              "That was " + shown(taken, compensation) + ", not what was asked. ");
      case WAITING -> {
        boolean moved =
            hand().meters()
                || asked.asked().isPresent()
                    && pace().clicks(aim.minus(asked.asked().get().ev())) != 0;
        if (due && moved) {
          ask(taken, compensation, aim, choice, "");
        }
      }
      case NOTHING_ASKED -> {
        if (due) {
          ask(taken, compensation, aim, choice, "");
        } else if (before.isEmpty()) {
          tell("The first frame is here. Leave the dials until you are told.");
        }
      }
    }
  }

  /** What a frame shows of the turn that was asked for. */
  private enum Outcome {
    NOTHING_ASKED,
    WAITING,
    DONE,
    WRONG
  }

  private Outcome outcome(
      Exposure taken, Optional<Stops> compensation, Optional<LapseFrame> before) {
    HandRun asked = run().hand();
    if (!hand().meters()) {
      Exposure wanted = asked.asked().orElse(taken);
      return hand().isSameSetting(taken, wanted)
          ? Outcome.DONE
          : before.filter(it -> hand().isSameSetting(taken, it.exposure())).isPresent()
              ? Outcome.WAITING
              : Outcome.WRONG;
    }
    Event.DialStep step = asked.dial().orElseThrow().turns().get(0);
    double sign = step.way().equals(DialTurn.Dial.COMPENSATION.way(true)) ? 1 : -1;
    double stands = compensation.orElse(Stops.ZERO).value();
    double to = Advice.compensation(step.to());
    double from = to - sign * step.clicks() / hand().clicksAStop();
    double half = 0.5 / hand().clicksAStop();
    return Math.abs(stands - to) <= half
        ? Outcome.DONE
        : Math.abs(stands - from) <= half ? Outcome.WAITING : Outcome.WRONG;
  }

  private String shown(Exposure taken, Optional<Stops> compensation) {
    return hand().meters()
        ? "exposure compensation " + Advice.signed(compensation.orElse(Stops.ZERO).value())
        : taken.toString();
  }

  private void tell(String words) {
    turn.record(new Event.DialAsked(run().lastShot() + 1, List.of(), words));
  }

  private void ask(
      Exposure taken, Optional<Stops> compensation, Ev aim, RampChoice choice, String wrong) {
    Exposure wanted = wanted(taken, aim);
    Advice advice = Advice.turn(hand(), taken, compensation, wanted);
    if (advice.turns().isEmpty() && wrong.isEmpty() && !run().hand().isOutstanding()) {
      // The dials end here: night stays night, and nobody is called for nothing.
      return;
    }
    turn.record(
        new Event.ShotPlanned(
            run().lastShot() + 1,
            1,
            Optional.of(wanted),
            choice.why(),
            "",
            setup().cadence().frames() - run().lastPlace(),
            Optional.empty()));
    List<Event.DialStep> steps = Event.DialStep.of(advice.turns());
    String told =
        !steps.isEmpty()
            ? advice.turns().stream().map(DialTurn::words).collect(Collectors.joining(" "))
            : hand().meters() ? advice.words() : "It does as well: leave the dials.";
    turn.record(new Event.DialAsked(run().lastShot() + 1, steps, wrong + told));
  }

  /** On manual whole clicks away, with the first frame's aperture, which never moves. */
  private Exposure wanted(Exposure taken, Ev aim) {
    if (hand().meters()) {
      double stops = taken.ev().minus(aim).value();
      return taken.withShutter(new Shutter(taken.shutter().seconds() * Math.pow(2, stops)));
    }
    Exposure fixed =
        new Exposure(
            taken.shutter(), run().frames().list().get(0).exposure().aperture(), taken.iso());
    int clicks = pace().clicks(aim.minus(fixed.ev()));
    return DialRange.of(setup().latitude()).turned(fixed, clicks, hand().clicksAStop());
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
