package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Known;

/** A session that is driven by hand: inputs at seconds since its start. */
final class Script {
  static final Instant START = Instant.parse("2026-05-04T03:00:00Z");

  private final List<Event> events = new ArrayList<>();
  private final List<Effect> effects = new ArrayList<>();
  private State state = State.EMPTY;

  static BracketSetup setup(Optional<Exposure> start) {
    return setup(start, false, Optional.empty());
  }

  /** A camera that keeps its own exposure, or one whose raw files follow their JPEGs. */
  static BracketSetup setup(Optional<Exposure> start, boolean jpegFirst, Optional<Gear.Own> own) {
    return new BracketSetup(
        "20260504-030000-test",
        "0.1.0",
        new Gear(
            "reference-trigger",
            "",
            "frames",
            jpegFirst,
            jpegFirst,
            own,
            Optional.of(new Gear.Rehearsal("ridge", new Ev(12), 1))),
        BracketGoal.USUAL,
        new CameraRange(
            ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
            Iso.parse("100"),
            Iso.parse("6400"),
            Aperture.parse("f/2.8"),
            Aperture.parse("f/22")),
        PictureLimits.at(Aperture.parse("f/8")),
        NoiseModel.TYPICAL,
        start,
        Known.NOTHING,
        new Patience(Duration.ofSeconds(5), Duration.ofSeconds(10), Duration.ofSeconds(60), 3));
  }

  /** Opened, greeted and metered at EV 11: shot 1 is commanded at EV 11.0 at second 0. */
  static Script afterFirstCommand() {
    Script script = new Script();
    script.open(setup(Optional.empty()));
    script.at(0, new Input.TriggerGreeted("test"));
    script.at(0, new Input.SceneMetered(new Ev(11)));
    return script;
  }

  void open(BracketSetup setup) {
    apply(BracketSession.open(setup, START), START);
  }

  /** Applies an input and gives the names of the events that it led to. */
  List<String> at(double seconds, Input input) {
    Instant now = time(seconds);
    Step step = BracketSession.step(state, input, now);
    apply(step, now);
    return step.events().stream().map(event -> event.getClass().getSimpleName()).toList();
  }

  private void apply(Step step, Instant now) {
    events.addAll(step.events());
    effects.addAll(step.effects());
    state = state.after(step.events(), now);
  }

  static Instant time(double seconds) {
    return START.plusNanos((long) (seconds * 1e9));
  }

  State state() {
    return state;
  }

  Exposure exposure(int shot) {
    return state.shot(shot).exposure();
  }

  List<Effect> effects() {
    return effects;
  }

  /** How many releases were asked for. */
  long releases() {
    return effects.stream().filter(Effect.Release.class::isInstance).count();
  }

  /** When the session last asked to be woken. */
  Instant wake() {
    Instant last = null;
    for (Effect effect : effects) {
      last = effect instanceof Effect.WakeAt wake ? wake.instant() : last;
    }
    return last;
  }

  Event.BracketReport report() {
    return (Event.BracketReport) state.report().orElseThrow();
  }

  <T extends Event> T last(Class<T> type) {
    return events.stream()
        .filter(type::isInstance)
        .map(type::cast)
        .reduce((first, second) -> second)
        .orElseThrow();
  }
}
