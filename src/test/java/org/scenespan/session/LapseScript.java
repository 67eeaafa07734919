package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Region;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.Wish;

/** A lapse at ten seconds told as a script: what comes in at which second, and what is decided. */
public final class LapseScript {
  static final Instant START = Instant.parse("2026-05-04T03:00:00Z");

  /** Mid grey in a frame: 2.977 stops below saturation. */
  private static final Stops MID_GREY = new Stops(-2.977);

  private final List<Event> events = new ArrayList<>();
  private final List<Effect> effects = new ArrayList<>();
  private State state = State.EMPTY;
  private double now;

  /** A lapse of so many frames by a trigger that can set everything. */
  public static LapseSetup setup(int frames) {
    return new LapseSetup(
        "dawn",
        "0.1.0",
        new Gear("reference-trigger", "", "frames", false, Optional.empty()),
        new CameraRange(
            ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
            Iso.parse("100"),
            Iso.parse("6400"),
            Aperture.parse("f/1.4"),
            Aperture.parse("f/22")),
        PictureLimits.at(Aperture.parse("f/2.8")).withHighestIso(Iso.parse("1600")),
        new LapseSetup.Cadence(Duration.ofSeconds(10), Duration.ofSeconds(1), frames),
        Region.WHOLE,
        Wish.level(Stops.ZERO),
        Optional.of(new Ev(9)),
        Optional.empty(),
        new Patience(Duration.ofSeconds(15), Duration.ofSeconds(8), Duration.ofSeconds(60), 0));
  }

  /** Greeted: the first shot is commanded and due at 0.15 s. */
  static LapseScript greeted(int frames) {
    LapseScript script = new LapseScript();
    script.apply(Session.open(setup(frames), START), START);
    script.at(0, new Input.TriggerGreeted("test"));
    return script;
  }

  void open(int frames) {
    apply(Session.open(setup(frames), START), START);
  }

  /** The program is killed and started again then; nothing of what it waited for happens. */
  LapseScript goneUntil(double seconds) {
    now = seconds;
    return this;
  }

  /** When the frame of a place is due, in seconds. */
  static double due(int place) {
    return 0.15 + 10 * (place - 1);
  }

  /** Lets time pass, waking the session as it wishes to be woken, and then hands in an input. */
  List<String> at(double seconds, Input input) {
    List<String> names = until(seconds);
    names.addAll(take(seconds, input));
    return names;
  }

  /** Lets time pass. */
  List<String> until(double seconds) {
    List<String> names = new ArrayList<>();
    for (Optional<Double> wake = wake();
        wake.isPresent() && wake.get() > now && wake.get() <= seconds;
        wake = wake()) {
      names.addAll(take(wake.get(), new Input.ClockTicked()));
    }
    return names;
  }

  private List<String> take(double seconds, Input input) {
    now = seconds;
    Instant at = time(seconds);
    Step step = Session.step(state, input, at);
    apply(step, at);
    return step.events().stream().map(event -> event.getClass().getSimpleName()).toList();
  }

  private void apply(Step step, Instant at) {
    events.addAll(step.events());
    effects.addAll(step.effects());
    state = state.after(step.events(), at);
  }

  private Optional<Double> wake() {
    Optional<Double> last = Optional.empty();
    for (Effect effect : effects) {
      if (effect instanceof Effect.WakeAt wake) {
        last = Optional.of(Duration.between(START, wake.instant()).toNanos() / 1e9);
      }
    }
    return last;
  }

  static Instant time(double seconds) {
    return START.plusNanos(Math.round(seconds * 1e9));
  }

  /** The trigger is done with a shot, and its frame comes half a second later. */
  void whole(int shot, String file) {
    confirmed(shot);
    frame(due(shot) + 1, file, taken(shot));
  }

  void confirmed(int shot) {
    at(due(shot) + 0.5, new Input.ReleaseConfirmed(shot));
  }

  /** A frame of mid grey. */
  List<String> frame(double seconds, String file, FrameReading taken) {
    return at(seconds, measured(file, taken));
  }

  private static Input measured(String file, FrameReading taken) {
    FrameReading named =
        new FrameReading(
            file, "jpeg", taken.metadata(), taken.measure(), Optional.empty(), Optional.empty());
    return new Input.FrameMeasured(named, Optional.empty(), Optional.of(MID_GREY));
  }

  /** What the camera would write of a shot: its clock is an hour ahead. */
  FrameReading taken(int shot) {
    return taken(shot, 3600);
  }

  FrameReading taken(int shot, double clockAhead) {
    Exposure exposure = state.lapse().shot(shot).map(LapseShot::exposure).orElse(Exposures.DAY);
    return Readings.holding(
        "x", Readings.metadata(exposure, time(due(shot) + lag(shot) + clockAhead)));
  }

  /** From the command to the opening of the shutter: never quite the same. */
  private static double lag(int shot) {
    return 0.06 + 0.001 * (shot * 7 % 10);
  }

  private static final class Exposures {
    static final Exposure DAY =
        new Exposure(Shutter.parse("1/60"), Aperture.parse("f/2.8"), Iso.parse("100"));
  }

  State state() {
    return state;
  }

  List<Event> events() {
    return events;
  }

  /** When releases were asked for, in seconds. */
  List<Double> releases() {
    List<Double> times = new ArrayList<>();
    for (Effect effect : effects) {
      if (effect instanceof Effect.ReleaseAt release) {
        times.add(Duration.between(START, release.at()).toNanos() / 1e9);
      }
    }
    return times;
  }

  Event.LapseReport report() {
    return (Event.LapseReport) state.report().orElseThrow();
  }

  /** Which shot each credited file is. */
  List<String> credited() {
    return state.lapse().frames().list().stream()
        .map(frame -> frame.file().orElseThrow() + " " + frame.shot())
        .toList();
  }
}
