package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Patch;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.plan.guard.Finding;
import org.scenespan.plan.guard.Levels;

class TetherSessionTest {
  private static final Instant START = Instant.parse("2026-05-04T09:00:00Z");
  private static final Patch CARD = new Patch(0.4, 0.4, 0.1, 0.1);

  private State state = State.EMPTY;
  private List<Event> events = List.of();
  private List<Effect> effects = List.of();

  private void open(boolean firstIsReference, int frames, Optional<Duration> longest) {
    take(
        Session.open(
            new TetherSetup(
                "studio",
                "test",
                new Gear("", "", "frames", false, Optional.empty()),
                Levels.USUAL,
                firstIsReference,
                frames,
                longest,
                Patience.USUAL),
            START),
        0);
  }

  private void at(double seconds, Input input) {
    Instant now = START.plusMillis(Math.round(1000 * seconds));
    take(Session.step(state, input, now), seconds);
  }

  private void take(Step step, double seconds) {
    events = step.events();
    effects = step.effects();
    state = state.after(events, START.plusMillis(Math.round(1000 * seconds)));
  }

  private static FrameMetadata taken(double seconds, Instant at) {
    return Readings.metadata(
        new Exposure(new Shutter(seconds), Aperture.ofNominal(2.8), Iso.parse("100")), at);
  }

  private static FrameReading frame(String file) {
    return Readings.holding(file, FrameMetadata.NONE);
  }

  private static Optional<Deviation> off(String against, double stops) {
    return Optional.of(
        new Deviation(
            against,
            new Stops(stops),
            new Stops(stops),
            0,
            0,
            Optional.empty(),
            true,
            Optional.empty()));
  }

  private Event.FrameWatched watched() {
    return (Event.FrameWatched) events.get(0);
  }

  @Test
  void needsNoTriggerAndHoldsNothingAgainstNothing() {
    open(false, 0, Optional.empty());
    assertTrue(effects.isEmpty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    assertEquals(List.of(), watched().findings());
    at(2, new Input.FrameMeasured(frame("B.JPG")));
    assertEquals(2, watched().index());
    assertTrue(state.tether().reference().isEmpty());
  }

  @Test
  void holdsFramesAgainstTheOneThatThePhotographerMarks() {
    open(false, 0, Optional.empty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    at(2, new Input.ReferenceAsked("A.JPG", Optional.of(CARD)));
    assertEquals(List.of(new Event.ReferenceMarked("A.JPG", Optional.of(CARD))), events);
    assertEquals(new Effect.HoldAgainst("A.JPG", Optional.of(CARD)), effects.get(0));
    at(3, new Input.FrameMeasured(frame("B.JPG"), off("A.JPG", -0.25)));
    Finding finding = watched().findings().get(0);
    assertEquals(Finding.Kind.EXPOSURE, finding.kind());
    assertEquals(Finding.Weight.ALARM, finding.weight());
  }

  @Test
  void aFrameThatWasHeldAgainstAnOlderReferenceIsNotJudgedByIt() {
    open(true, 0, Optional.empty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    at(2, new Input.FrameMeasured(frame("B.JPG"), off("A.JPG", 0)));
    at(3, new Input.ReferenceAsked("B.JPG", Optional.empty()));
    at(4, new Input.FrameMeasured(frame("C.JPG"), off("A.JPG", -1.5)));
    assertTrue(watched().deviation().isEmpty());
    assertEquals(List.of(), watched().findings());
  }

  /** It landed with the reference, and was measured before that was marked. */
  @Test
  void aFrameThatWasHeldAgainstNothingIsNotFoundUnlike() {
    open(true, 0, Optional.empty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    at(2, new Input.FrameMeasured(frame("B.JPG")));
    assertEquals(List.of(), watched().findings());
    Input another =
        new Input.FrameMeasured(
            frame("C.JPG"),
            Optional.of("A.JPG"),
            Optional.empty(),
            Optional.empty(),
            Steadiness.UNKNOWN);
    at(3, another);
    assertEquals(Finding.Kind.UNLIKE, watched().findings().get(0).kind());
  }

  @Test
  void aFileThatIsNotThereCannotBeMarked() {
    open(false, 0, Optional.empty());
    at(1, new Input.ReferenceAsked("NONE.JPG", Optional.empty()));
    assertEquals(List.of(), events);
    at(1, new Input.MarkAsked("NONE.JPG", Mark.KEEP, ""));
    assertEquals(List.of(), events);
  }

  @Test
  void keepsTheLastMarkOfAFrame() {
    open(false, 0, Optional.empty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    at(2, new Input.MarkAsked("A.JPG", Mark.KEEP, "eyes open"));
    at(3, new Input.MarkAsked("A.JPG", Mark.REJECT, "x".repeat(900)));
    at(4, new Input.StopAsked());
    Event.TetherReport report = (Event.TetherReport) events.get(0);
    assertEquals(Stopped.ASKED, report.stopped());
    assertEquals(Mark.REJECT, report.frames().get(0).mark());
    assertEquals(CommonRules.LONGEST_NOTE, report.frames().get(0).note().length());
  }

  @Test
  void theFirstFrameIsTheReferenceWhereThatWasAskedFor() {
    open(true, 0, Optional.empty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    assertEquals(new Event.ReferenceMarked("A.JPG", Optional.empty()), events.get(1));
  }

  @Test
  void aResumedSessionHoldsAgainstTheSameFrame() {
    open(true, 0, Optional.empty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    at(60, new Input.Begun());
    assertEquals(List.of(new Event.SessionResumed()), events);
    assertEquals(new Effect.HoldAgainst("A.JPG", Optional.empty()), effects.get(0));
  }

  @Test
  void aRawFileTakesThePlaceOfItsJpeg() {
    open(true, 0, Optional.empty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    at(2, new Input.FrameMeasured(frame("B.JPG"), off("A.JPG", 0)));
    at(3, new Input.FrameMeasured(frame("B.DNG").inPlaceOf("B.JPG"), off("A.JPG", 0.01)));
    assertEquals(2, watched().index());
    assertEquals(2, state.tether().frames().size());
  }

  @Test
  void aFileIsWatchedOnce() {
    open(false, 0, Optional.empty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    at(2, new Input.FrameMeasured(frame("A.JPG")));
    assertEquals("FrameStray", events.get(0).getClass().getSimpleName());
    assertEquals(1, state.tether().frames().size());
  }

  @Test
  void aFileThatIsFoundAgainAfterARestartIsNothingNew() {
    open(false, 0, Optional.empty());
    FrameMetadata odd = taken(1 / 167.0, START);
    at(1, new Input.FrameMeasured(Readings.holding("A.JPG", odd)));
    // As the journal has it, to seven digits.
    FrameMetadata rounded = taken(0.005988024, START);
    at(2, new Input.FrameMeasured(Readings.holding("A.JPG", rounded)));
    assertEquals(List.of(), events);
    assertEquals(1, state.tether().frames().size());
    FrameMetadata later = taken(1 / 167.0, START.plusSeconds(60));
    at(3, new Input.FrameMeasured(Readings.holding("A.JPG", later)));
    assertEquals(2, watched().index(), "the same name on a new card");
  }

  @Test
  void endsAfterTheFramesOrTheTimeThatWereAskedFor() {
    open(false, 1, Optional.empty());
    at(1, new Input.FrameMeasured(frame("A.JPG")));
    assertEquals(Stopped.DONE, state.report().orElseThrow().stopped());
    state = State.EMPTY;
    open(false, 0, Optional.of(Duration.ofMinutes(2)));
    assertEquals(List.of(new Effect.WakeAt(START.plusSeconds(120))), effects);
    at(119, new Input.ClockTicked());
    assertTrue(state.report().isEmpty());
    at(120, new Input.ClockTicked());
    assertEquals(Stopped.DONE, state.report().orElseThrow().stopped());
  }

  @Test
  void aFolderThatStaysAwayEndsIt() {
    open(false, 0, Optional.empty());
    at(1, new Input.FolderLost("no such folder"));
    at(50, new Input.FolderReturned());
    at(60, new Input.FolderLost("no such folder"));
    at(149, new Input.ClockTicked());
    assertTrue(state.report().isEmpty());
    at(150, new Input.ClockTicked());
    assertEquals(Stopped.FRAMES_MISSING, state.report().orElseThrow().stopped());
  }
}
