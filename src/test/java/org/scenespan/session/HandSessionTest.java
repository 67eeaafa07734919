package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Known;
import org.scenespan.plan.hand.Hand;

/** A bracket by hand: what is told, and what a frame proves. */
class HandSessionTest {
  private static final Instant START = Instant.parse("2026-05-04T03:00:00Z");

  private final List<Event> events = new ArrayList<>();
  private State state = State.EMPTY;
  private int taken;

  private void open(Hand.Mode mode, String start) {
    BracketSetup setup =
        new BracketSetup(
            "test",
            "0.1.0",
            Gear.byHand("frames", true, false, new Hand(mode, 3, new Stops(3))),
            BracketGoal.USUAL,
            new CameraRange(
                ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
                Iso.parse("100"),
                Iso.parse("6400"),
                Aperture.parse("f/2.8"),
                Aperture.parse("f/22")),
            PictureLimits.at(Aperture.parse("f/8")),
            NoiseModel.TYPICAL,
            start.isEmpty() ? Optional.empty() : Optional.of(exposure(start)),
            Known.NOTHING,
            Patience.USUAL,
            Optional.empty());
    apply(Session.open(setup, START));
  }

  private static Exposure exposure(String shutter) {
    return new Exposure(Shutter.parse(shutter), Aperture.parse("f/8"), Iso.parse("100"));
  }

  private List<String> input(Input input) {
    return apply(Session.step(state, input, START.plusSeconds(events.size())));
  }

  private List<String> apply(Step step) {
    events.addAll(step.events());
    state = state.after(step.events(), START.plusSeconds(events.size()));
    return step.events().stream().map(event -> event.getClass().getSimpleName()).toList();
  }

  private static FrameMetadata taken(String shutter, double compensation, int second) {
    Exposure exposure = exposure(shutter);
    return new FrameMetadata(
        Optional.of(exposure.shutter()),
        Optional.of(exposure.aperture()),
        Optional.of(exposure.iso()),
        Optional.of(new Stops(compensation)),
        Optional.of(
            new CaptureTime(
                LocalDateTime.of(2026, 5, 4, 5, 0).plusSeconds(second), Optional.empty(), true)),
        1,
        Optional.empty());
  }

  private List<String> frame(String shutter, double compensation, boolean clips) {
    taken++;
    FrameMetadata metadata = taken(shutter, compensation, taken);
    String file = "A" + taken + ".DNG";
    FrameReading reading =
        clips ? Readings.clipping(file, metadata) : Readings.holding(file, metadata);
    return input(new Input.FrameMeasured(reading));
  }

  private Event.DialAsked asked() {
    Event.DialAsked last = null;
    for (Event event : events) {
      last = event instanceof Event.DialAsked asked ? asked : last;
    }
    return last;
  }

  @Test
  void tellsTheFirstExposureAndThenTheClicks() {
    open(Hand.Mode.MANUAL, "1/60");
    assertEquals("Set 1/60 s, f/8, ISO 100, and take a frame.", asked().words());
    List<String> told = frame("1/60", 0, true);
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "ShotPlanned", "ShotCommanded", "DialAsked"),
        told);
    Event.DialAsked next = asked();
    assertEquals(1, next.turns().size());
    assertEquals("shutter", next.turns().get(0).dial());
    assertEquals("shorter", next.turns().get(0).way());
    Exposure wanted = state.shot(2).exposure();
    double stops = wanted.shutter().tv() - exposure("1/60").shutter().tv();
    assertEquals(Math.rint(stops * 3), next.turns().get(0).clicks());
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "BracketReport"),
        frame(wanted.shutter().toString().replace(" s", ""), 0, false));
    assertEquals(Stopped.COVERED, state.report().orElseThrow().stopped());
  }

  /** The dial was turned the wrong way; the next advice starts where it is now. */
  @Test
  void noticesAWrongTurn() {
    open(Hand.Mode.MANUAL, "1/60");
    frame("1/60", 0, true);
    Exposure wanted = state.shot(2).exposure();
    frame("1/15", 0, true);
    String words = asked().words();
    assertTrue(
        words.startsWith("That was 1/15 s, f/8, ISO 100, not " + wanted + ". Shutter: "), words);
    double clicks = 3 * (state.shot(3).exposure().shutter().tv() - exposure("1/15").shutter().tv());
    assertEquals(Math.rint(clicks), asked().turns().get(0).clicks());
    assertEquals(2, state.frames().size());
    assertEquals(exposure("1/15").ev(), state.frames().get(1).exposure().ev());
  }

  @Test
  void compensatesWhereTheCameraMeters() {
    open(Hand.Mode.APERTURE_PRIORITY, "");
    assertEquals(
        "Set f/8, ISO 100 and exposure compensation 0, and take a frame.", asked().words());
    frame("1/60", 0, true);
    Event.DialStep step = asked().turns().get(0);
    assertEquals("exposure compensation", step.dial());
    assertEquals("to minus", step.way());
    // More is wanted than compensation gives: as far as it goes, and then to manual.
    assertEquals(9, step.clicks());
    assertEquals("\u22123.0", step.to());
    frame("1/500", -3, true);
    assertEquals(List.of(), asked().turns());
    assertTrue(asked().words().startsWith("Exposure compensation ends "), asked().words());
    assertTrue(asked().words().contains("set the camera to manual"), asked().words());
  }

  /** Somebody who looks for a lens cap for an hour is not given up. */
  @Test
  void waitsAsLongAsItTakes() {
    open(Hand.Mode.MANUAL, "1/60");
    assertEquals(List.of(), input(new Input.ClockTicked()));
    assertEquals(List.of("FolderLost"), input(new Input.FolderLost("it is gone")));
    assertEquals(List.of("FolderReturned"), input(new Input.FolderReturned()));
    assertEquals(List.of("SessionHeld"), input(new Input.HoldAsked()));
    assertEquals(List.of("FrameAccepted", "SpanEstimated"), frame("1/60", 0, true));
    assertEquals(
        List.of("SessionContinued", "ShotPlanned", "ShotCommanded", "DialAsked"),
        input(new Input.ContinueAsked()));
  }

  @Test
  void leavesAFrameAloneThatSaysNothing() {
    open(Hand.Mode.MANUAL, "1/60");
    assertEquals(
        List.of("FrameStray"),
        input(new Input.FrameMeasured(Readings.clipping("X.DNG", FrameMetadata.NONE))));
  }

  @Test
  void goesOnAfterAnInterruption() {
    open(Hand.Mode.MANUAL, "1/60");
    frame("1/60", 0, true);
    String before = asked().words();
    assertEquals(List.of("SessionResumed", "SpanEstimated", "DialAsked"), input(new Input.Begun()));
    assertEquals(before, asked().words());
    assertEquals(2, state.shots().size());
  }
}
