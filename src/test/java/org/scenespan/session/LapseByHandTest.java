package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.Region;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.hand.Hand;
import org.scenespan.plan.ramp.Wish;

/**
 * A lapse by hand at ten seconds: a camera on its own timer, and a photographer who does what she
 * is told a frame or two later.
 */
class LapseByHandTest {
  private static final Instant START = Instant.parse("2026-05-04T18:00:00Z");
  private static final int INTERVAL = 10;
  private static final double MID_GREY_LEVEL = -2.977;

  private final List<Event> events = new ArrayList<>();
  private final List<Double> errors = new ArrayList<>();
  private final List<Double> askedAt = new ArrayList<>();
  private final SplittableRandom random = new SplittableRandom(11);
  private State state = State.EMPTY;
  private Exposure dials;
  private double compensation;
  private List<Event.DialStep> toDo = List.of();
  private int frame;

  private LapseByHandTest open(Hand.Mode mode, int frames, String first) {
    dials = new Exposure(Shutter.parse(first), Aperture.parse("f/4"), Iso.parse("100"));
    LapseSetup setup =
        new LapseSetup(
            "dusk",
            "0.1.0",
            Gear.byHand("frames", false, false, new Hand(mode, 3, new Stops(3))),
            new CameraRange(
                ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
                Iso.parse("100"),
                Iso.parse("102400"),
                Aperture.parse("f/1"),
                Aperture.parse("f/32")),
            PictureLimits.at(Aperture.parse("f/2.8")).withHighestIso(Iso.parse("1600")),
            new LapseSetup.Cadence(Duration.ofSeconds(INTERVAL), Duration.ofSeconds(1), frames),
            Region.WHOLE,
            Wish.usual(),
            Optional.empty(),
            Optional.empty(),
            Patience.USUAL);
    apply(Session.open(setup, START), START);
    return this;
  }

  private void apply(Step step, Instant at) {
    for (Event event : step.events()) {
      if (event instanceof Event.DialAsked asked) {
        toDo = asked.turns();
        if (!toDo.isEmpty()) {
          askedAt.add(Duration.between(START, at).toMillis() / 1e3);
        }
      }
    }
    events.addAll(step.events());
    state = state.after(step.events(), at);
  }

  /** The next frame of the timer. */
  private void press(double sceneEv) {
    double seconds = INTERVAL * ++frame;
    Instant at = START.plusMillis((long) (1000 * seconds));
    double brightness = sceneEv - dials.ev().value() + 0.02 * (random.nextDouble() - 0.5);
    FrameMetadata plain = Readings.metadata(dials, at);
    FrameMetadata said =
        new FrameMetadata(
            plain.shutter(),
            plain.aperture(),
            plain.iso(),
            Optional.of(new Stops(compensation)),
            plain.capturedAt(),
            1,
            plain.camera());
    Input input =
        new Input.FrameMeasured(
            Readings.holding("D" + frame + ".JPG", said),
            Optional.empty(),
            Optional.of(new Stops(brightness + MID_GREY_LEVEL)));
    apply(Session.step(state, input, at.plusSeconds(2)), at.plusSeconds(2));
    state.lapse().frames().list().stream()
        .reduce((one, other) -> other)
        .ifPresent(last -> errors.add(last.brightness().get().minus(last.wish()).value()));
  }

  /** Turns what was asked; the other way if she slips. */
  private void obey(boolean slips) {
    for (Event.DialStep step : toDo) {
      int clicks = slips ? -1 : step.clicks();
      switch (step.dial()) {
        case "shutter" -> {
          int k = dials.shutter().third().orElseThrow();
          dials =
              dials.withShutter(
                  Shutter.ofThird(k + (step.way().equals("longer") ? clicks : -clicks)));
        }
        case "ISO" -> {
          double up = (step.way().equals("higher") ? clicks : -clicks) / 3.0;
          dials = dials.withIso(Iso.ofNominal(dials.iso().speed() * Math.pow(2, up)));
        }
        case "exposure compensation" ->
            compensation += (step.way().equals("to plus") ? clicks : -clicks) / 3.0;
        default -> throw new AssertionError("nobody asked for the " + step.dial());
      }
    }
    toDo = List.of();
  }

  private List<String> words() {
    return events.stream()
        .filter(Event.DialAsked.class::isInstance)
        .map(event -> ((Event.DialAsked) event).words())
        .toList();
  }

  private void run(int frames, DoubleUnaryOperator light, int delay) {
    int waited = 0;
    for (int i = 0; i < frames; i++) {
      press(light.applyAsDouble(INTERVAL * frame / 60.0));
      waited = toDo.isEmpty() ? 0 : waited + 1;
      if (waited > delay) {
        obey(false);
        waited = 0;
      }
    }
  }

  /**
   * Dusk at 0.25 stop a minute (0.20 to 0.41 at its fastest, by the table of illuminance), 53
   * minutes and 13 stops: about a click for each third of a stop, none more often than each half
   * minute, and the picture stays within two thirds of a stop of the wish.
   */
  @ParameterizedTest
  @CsvSource({"0", "1", "2"})
  void leadsAHandThroughDusk(int delay) {
    open(Hand.Mode.MANUAL, 1000, "1/125");
    run(320, minute -> 11 - 0.25 * minute, delay);
    List<Double> steady = errors.subList(5, errors.size());
    double worst = steady.stream().mapToDouble(Math::abs).max().orElseThrow();
    double mean = steady.stream().mapToDouble(Math::abs).average().orElseThrow();
    assertTrue(worst < 0.67, "worst " + worst + ", " + words());
    assertTrue(mean < 0.25, "mean " + mean);
    assertTrue(askedAt.size() >= 10 && askedAt.size() <= 45, askedAt.toString());
    for (int i = 1; i < askedAt.size(); i++) {
      assertTrue(askedAt.get(i) - askedAt.get(i - 1) >= 30, askedAt.toString());
    }
    assertTrue(words().stream().anyMatch(it -> it.startsWith("Shutter: ")), words().toString());
    assertTrue(words().stream().anyMatch(it -> it.startsWith("ISO: ")), words().toString());
    assertTrue(words().stream().noneMatch(it -> it.startsWith("That was")), words().toString());
  }

  /** Steady light, and a first frame as the photographer wants it: nobody is called at all. */
  @ParameterizedTest
  @CsvSource({
    "15, 1/500, snow at one and a half stops over mid grey",
    "-3, 30s, a night that stays night",
    "12, 1/250, shade as the meter has it",
  })
  void leavesSnowAndNightAsTheyAre(double scene, String first, String what) {
    open(Hand.Mode.MANUAL, 1000, first);
    run(60, minute -> scene, 0);
    assertEquals(List.of(), askedAt, what);
    assertEquals(0, errors.get(0), 0.03, what);
  }

  /** A cloud for a minute is not followed. */
  @Test
  void doesNotChaseACloud() {
    open(Hand.Mode.MANUAL, 1000, "1/250");
    run(120, minute -> minute > 10 && minute < 11 ? 9.5 : 11.5, 0);
    assertEquals(List.of(), askedAt, words().toString());
  }

  @Test
  void noticesAWrongTurnAndStartsFromThere() {
    open(Hand.Mode.MANUAL, 1000, "1/125");
    double minute = 0;
    while (toDo.isEmpty()) {
      press(11 - 0.25 * (minute += INTERVAL / 60.0));
    }
    Exposure before = dials;
    obey(true);
    assertTrue(dials.shutter().compareTo(before.shutter()) < 0, "she slipped");
    press(11 - 0.25 * (minute += INTERVAL / 60.0));
    String told = words().get(words().size() - 1);
    assertTrue(told.startsWith("That was " + dials), told);
    assertTrue(told.contains("Shutter: 2 clicks longer"), told);
    obey(false);
    press(11 - 0.25 * (minute += INTERVAL / 60.0));
    assertEquals("Right: " + dials + ". Leave the dials.", words().get(words().size() - 1));
  }

  /** The aperture must not move: it is asked back with the click that makes up for nothing. */
  @Test
  void asksForTheApertureBack() {
    open(Hand.Mode.MANUAL, 1000, "1/125");
    double minute = 0;
    while (toDo.isEmpty()) {
      press(11 - 0.25 * (minute += INTERVAL / 60.0));
    }
    dials = new Exposure(dials.shutter(), Aperture.parse("f/3.5"), dials.iso());
    press(11 - 0.25 * (minute += INTERVAL / 60.0));
    String told = words().get(words().size() - 1);
    assertTrue(told.contains("Aperture: 1 click smaller, to f/4"), told);
  }

  /** A camera that meters keeps mid grey by itself; night is made by compensation to minus. */
  @Test
  void turnsCompensationWhereTheCameraMeters() {
    open(Hand.Mode.APERTURE_PRIORITY, 1000, "1/125");
    for (int i = 0; i < 240; i++) {
      double scene = 11 - 0.25 * INTERVAL * i / 60.0;
      double seconds = Math.pow(2, compensation) * 16 / Math.pow(2, scene);
      dials = dials.withShutter(new Shutter(seconds));
      press(scene);
      obey(false);
    }
    // The wish at EV 1 against that at EV 11: −1.47 and 0.
    assertEquals(-1.4, compensation, 0.4, words().toString());
    assertTrue(askedAt.size() >= 3 && askedAt.size() <= 8, words().toString());
    assertTrue(
        words().stream().anyMatch(it -> it.startsWith("Right: exposure compensation \u2212")),
        words().toString());
  }

  /** Frames that stay away are told of, and missing ones are no one's fault. */
  @Test
  void asksWhetherTheTimerStillRuns() {
    open(Hand.Mode.MANUAL, 1000, "1/250");
    run(3, minute -> 12, 0);
    Step quiet = Session.step(state, new Input.ClockTicked(), START.plusSeconds(10 * frame + 50));
    apply(quiet, START.plusSeconds(10 * frame + 50));
    assertTrue(
        events.get(events.size() - 1) instanceof Event.AlarmRaised alarm
            && alarm.words().contains("does the camera's timer still run"),
        events.get(events.size() - 1).toString());
    frame += 5;
    press(12);
    assertEquals(5, state.lapse().skipped());
    assertTrue(state.lapse().alarms().isEmpty());
    assertEquals(9, state.lapse().lastPlace());
    apply(Session.step(state, new Input.StopAsked(), START.plusSeconds(200)), START);
    Event.LapseReport report = (Event.LapseReport) state.report().orElseThrow();
    assertEquals(4, report.frames().size());
  }

  /** The same events give the same state, and the last of so many frames ends it. */
  @Test
  void endsWithItsLastFrameAndFoldsAgain() {
    open(Hand.Mode.MANUAL, 12, "1/125");
    run(11, minute -> 11 - 0.25 * minute, 0);
    assertTrue(!state.isClosed());
    press(10);
    assertTrue(state.isClosed());
    assertEquals(Stopped.DONE, state.report().orElseThrow().stopped());
  }

  /** A disk that takes no records, or no more frames, is said by hand, too. */
  @Test
  void aFullDiskIsToldAndItsEnd() {
    open(Hand.Mode.MANUAL, 100, "1/60");
    press(9);
    Instant at = START.plusSeconds(15);
    apply(Session.step(state, new Input.RecordsHeld("no space left"), at), at);
    apply(Session.step(state, new Input.SpaceSeen(5_000_000, 1_000_000), at), at);
    assertEquals(List.of("records", "space"), alarms(Event.AlarmRaised.class));
    apply(Session.step(state, new Input.RecordsWritten(), at), at);
    apply(Session.step(state, new Input.SpaceSeen(900_000_000, 1_000_000), at), at);
    assertEquals(List.of("records", "space"), alarms(Event.AlarmEnded.class));
  }

  private List<String> alarms(Class<? extends Event> type) {
    return events.stream()
        .filter(type::isInstance)
        .map(
            event ->
                event instanceof Event.AlarmRaised raised
                    ? raised.kind()
                    : ((Event.AlarmEnded) event).kind())
        .toList();
  }
}
