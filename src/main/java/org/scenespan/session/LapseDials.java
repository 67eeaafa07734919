package org.scenespan.session;

import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.scenespan.frame.FrameReading;
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
 * The dials of a lapse by hand: which of them the photographer is asked to turn, and when. The next
 * frame's own metadata proves each turn.
 */
record LapseDials(Turn turn) {
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

  /** Before anything else: how the camera is to be set, and that its timer is to be started. */
  void askFirst() {
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

  /**
   * Asks for a turn if one is due, and tells what came of the last.
   *
   * @param before the frame before, if there is one
   */
  void advise(FrameReading reading, Exposure taken, Optional<LapseFrame> before) {
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
}
