package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.scenespan.frame.Automatics;
import org.scenespan.frame.Detail;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Stops;

/** Two frames before a lapse: what they tell of a rig that is right, and of each that is not. */
class RigCheckTest {
  private static final Instant START = LapseScript.START;

  /** Mid grey: 2.977 stops below saturation. */
  private static final double MID_GREY = -2.977;

  private final List<Event> events = new ArrayList<>();
  private final List<Effect> effects = new ArrayList<>();
  private State state = State.EMPTY;

  /** What the rig does of what it is told. */
  private record Rig(double answered, Iso iso, Automatics automatics, double late, double blur) {
    static final Rig RIGHT =
        new Rig(1, null, new Automatics(Optional.of(false), Optional.of(false)), 1.2, 2);

    Rig obeying(double part) {
      return new Rig(part, iso, automatics, late, blur);
    }

    Rig with(Automatics other) {
      return new Rig(answered, iso, other, late, blur);
    }

    Rig stuckAt(String other) {
      return new Rig(answered, Iso.parse(other), automatics, late, blur);
    }

    Rig late(double seconds) {
      return new Rig(answered, iso, automatics, seconds, blur);
    }

    Rig blurred(double powers) {
      return new Rig(answered, iso, automatics, late, powers);
    }
  }

  private void apply(Step step, Instant at) {
    events.addAll(step.events());
    effects.addAll(step.effects());
    state = state.after(step.events(), at);
  }

  private void take(double seconds, Input input) {
    Instant at = LapseScript.time(seconds);
    apply(Session.step(state, input, at), at);
  }

  private void greeted(RigCheck check) {
    apply(Session.open(LapseScript.setup(3).with(check), START), START);
    take(0, new Input.TriggerGreeted("test"));
  }

  private List<Effect.Release> released() {
    return effects.stream()
        .filter(Effect.Release.class::isInstance)
        .map(Effect.Release.class::cast)
        .toList();
  }

  /** Both frames come as the rig makes them. */
  private void checked(RigCheck check, Rig rig) {
    greeted(check);
    double now = 0;
    for (int number = 1; number <= 2; number++) {
      Exposure told = released().get(number - 1).exposure();
      double first = released().get(0).exposure().ev().value();
      double level = MID_GREY - 0.5 + rig.answered * (first - told.ev().value());
      now += rig.late;
      take(now, framed("T" + number, told, level, rig));
    }
  }

  private static Input framed(String file, Exposure told, double level, Rig rig) {
    Exposure taken = rig.iso == null ? told : told.withIso(rig.iso);
    FrameMetadata plain = Readings.metadata(taken, START);
    FrameMetadata metadata =
        new FrameMetadata(
            plain.shutter(),
            plain.aperture(),
            plain.iso(),
            plain.compensation(),
            plain.capturedAt(),
            plain.orientation(),
            plain.camera(),
            rig.automatics);
    FrameReading reading = Readings.holding(file, metadata);
    return new Input.FrameMeasured(
        reading,
        Optional.empty(),
        Optional.of(new Stops(level)),
        new Steadiness(Optional.of(new Detail(-4 - rig.blur, -4)), Optional.empty()));
  }

  private List<String> found(String weight) {
    return events.stream()
        .filter(Event.RigChecked.class::isInstance)
        .flatMap(it -> ((Event.RigChecked) it).findings().stream())
        .filter(it -> it.weight().equals(weight))
        .map(Event.RigFinding::kind)
        .toList();
  }

  @Test
  void aRightRigIsReadyAndTheLapseBegins() {
    checked(RigCheck.STRICT, Rig.RIGHT);
    assertEquals(List.of("cadence", "obeyed", "sharpness"), found(Event.RigFinding.GOOD));
    assertEquals(List.of(), found(Event.RigFinding.WARNING));
    assertEquals(List.of(), found(Event.RigFinding.FAULT));
    assertTrue(state.lapse().start().isPresent());
    assertEquals(1, state.lapse().lastPlace(), "its first shot is place 1's");
  }

  @Test
  void itsFramesAreAStopApartAndNoneIsTheLapses() {
    checked(RigCheck.TELL, Rig.RIGHT);
    List<Effect.Release> trial = released();
    assertEquals(2, trial.size());
    double apart = trial.get(0).exposure().ev().minus(trial.get(1).exposure().ev()).value();
    assertEquals(1, apart, 1e-6);
    Exposure first = state.lapse().shot(1).orElseThrow().exposure();
    for (Effect.Release release : trial) {
      assertTrue(release.shot() > LapseSetup.MOST_FRAMES);
      assertFalse(release.exposure().isSameSetting(first), "late it would pass for the first");
    }
    assertEquals(0, state.lapse().frames().size());
    assertEquals(List.of("T1", "T2"), state.lapse().files().list());
  }

  @Test
  void withoutACheckItBeginsAtOnce() {
    greeted(RigCheck.OFF);
    assertEquals(List.of(), released());
    assertTrue(state.lapse().start().isPresent());
  }

  @Test
  void whatIsNotObeyedIsAFault() {
    checked(RigCheck.TELL, Rig.RIGHT.obeying(0));
    assertEquals(List.of("disobeyed"), found(Event.RigFinding.FAULT));
    assertTrue(state.lapse().start().isPresent(), "it goes on all the same");
  }

  @Test
  void halfAStopForAStopIsNotObeyedInLinearLight() {
    checked(RigCheck.TELL, Rig.RIGHT.obeying(0.5));
    assertEquals(List.of("disobeyed"), found(Event.RigFinding.FAULT));
  }

  @Test
  void strictlyItEndsBeforeItBegins() {
    checked(RigCheck.STRICT, Rig.RIGHT.obeying(0));
    Event.LapseReport report = (Event.LapseReport) state.report().orElseThrow();
    assertEquals(Stopped.TRIGGER_FAILED, report.stopped());
    assertTrue(report.why().contains("not obeyed"), report.why());
    assertTrue(state.lapse().start().isEmpty());
  }

  @Test
  void anIsoThatIsNotTheCommandedOneIsAFault() {
    checked(RigCheck.TELL, Rig.RIGHT.stuckAt("800"));
    assertEquals(List.of("disobeyed", "disobeyed"), found(Event.RigFinding.FAULT));
    assertTrue(words().contains("was taken with ISO 800: is ISO automatic?"), words());
  }

  @Test
  void whatTheCameraChoosesByItselfIsTold() {
    checked(RigCheck.TELL, Rig.RIGHT.with(new Automatics(Optional.of(true), Optional.of(true))));
    assertEquals(List.of("automatic-exposure"), found(Event.RigFinding.FAULT));
    assertEquals(List.of("automatic-white-balance"), found(Event.RigFinding.WARNING));
  }

  @Test
  void filesThatTakeLongerThanTheIntervalAreTold() {
    checked(RigCheck.TELL, Rig.RIGHT.late(11));
    assertEquals(List.of("cadence"), found(Event.RigFinding.WARNING));
  }

  @Test
  void aPictureInWhichNothingIsSharpIsTold() {
    checked(RigCheck.TELL, Rig.RIGHT.blurred(9));
    assertEquals(List.of("sharpness"), found(Event.RigFinding.WARNING));
  }

  @Test
  void framesThatDoNotComeAreAFaultAndTheLapseBeginsAfterThem() {
    greeted(RigCheck.TELL);
    double patience = LapseScript.setup(3).patience().frame().toMillis() / 1000.0;
    take(patience + 1, new Input.ClockTicked());
    assertEquals(2, released().size());
    take(2 * patience + 3, new Input.ClockTicked());
    assertEquals(List.of("no-frame", "no-frame"), found(Event.RigFinding.FAULT));
    assertTrue(state.lapse().start().isPresent());
  }

  @Test
  void strictlyNoFrameEndsIt() {
    greeted(RigCheck.STRICT);
    take(100, new Input.ClockTicked());
    take(200, new Input.ClockTicked());
    assertEquals(Stopped.FRAMES_MISSING, state.report().orElseThrow().stopped());
  }

  @Test
  void itWakesForAFrameThatDoesNotCome() {
    greeted(RigCheck.TELL);
    Effect.WakeAt wake =
        effects.stream()
            .filter(Effect.WakeAt.class::isInstance)
            .map(Effect.WakeAt.class::cast)
            .reduce((one, next) -> next)
            .orElseThrow();
    Duration until = Duration.between(START, wake.instant());
    assertTrue(until.compareTo(LapseScript.setup(3).patience().frame()) >= 0, until.toString());
  }

  @Test
  void whatARefusalMeansIsSaid() {
    greeted(RigCheck.TELL);
    take(0.1, new Input.ReleaseRefused(released().get(0).shot(), "no camera"));
    take(0.2, new Input.ReleaseRefused(released().get(1).shot(), "no camera"));
    assertEquals(List.of("no-frame", "no-frame"), found(Event.RigFinding.FAULT));
    assertTrue(words().contains("the trigger refused it: no camera"), words());
  }

  @Test
  void cutShortItIsNotTakenAgain() {
    greeted(RigCheck.TELL);
    take(5, new Input.Begun());
    take(5.1, new Input.TriggerGreeted("test"));
    assertEquals(List.of("cut-short"), found(Event.RigFinding.WARNING));
    assertEquals(1, released().size());
    assertTrue(state.lapse().start().isPresent());
  }

  /** Its frame would be of exposures that are none of the lapse's first shot. */
  @Test
  void aFrameThatComesAfterItsTimeIsLeftAlone() {
    greeted(RigCheck.TELL);
    Exposure told = released().get(0).exposure();
    take(100, new Input.ClockTicked());
    take(200, new Input.ClockTicked());
    take(201, framed("LATE", told, MID_GREY, Rig.RIGHT));
    assertEquals(0, state.lapse().frames().size());
    assertEquals(List.of("LATE"), state.lapse().files().list());
  }

  private String words() {
    return events.stream()
        .filter(Event.RigChecked.class::isInstance)
        .flatMap(it -> ((Event.RigChecked) it).findings().stream())
        .map(Event.RigFinding::words)
        .reduce("", (one, next) -> one + " " + next);
  }
}
