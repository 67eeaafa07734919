package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.plan.guard.Levels;

/** Releases that an operator asks a tether for. */
class ReleasesTest {
  private static final Instant START = Instant.parse("2026-05-04T09:00:00Z");

  /** The camera's clock is a little over two hours ahead, and shows whole seconds. */
  private static final Duration AHEAD = Duration.ofSeconds(7_205);

  private State state = State.EMPTY;
  private List<Event> events = List.of();
  private List<Effect> effects = List.of();
  private Optional<Duration> longest = Optional.empty();

  private void open(String trigger) {
    Patience usual = Patience.USUAL;
    take(
        Session.open(
            new TetherSetup(
                "studio",
                "test",
                new Gear(trigger, "/dev/ttyUSB0", "frames", false, Optional.empty()),
                Levels.USUAL,
                false,
                0,
                longest,
                new Patience(usual.answer(), Duration.ofSeconds(20), usual.outage(), 0)),
            START),
        0);
  }

  private void greeted() {
    open("release-only");
    assertEquals(new Effect.Greet(), effects.get(0));
    at(0.5, new Input.TriggerGreeted("box"));
  }

  private void at(double seconds, Input input) {
    take(Session.step(state, input, instant(seconds)), seconds);
  }

  private void take(Step step, double seconds) {
    events = step.events();
    effects = step.effects();
    state = state.after(events, instant(seconds));
  }

  private static Instant instant(double seconds) {
    return START.plusMillis(Math.round(1000 * seconds));
  }

  /** A frame lands; taken at a moment by the host's clock, if it says so at all. */
  private void lands(double seconds, String file, Double taken) {
    Optional<CaptureTime> captured =
        Optional.ofNullable(taken)
            .map(
                at ->
                    new CaptureTime(
                        LocalDateTime.ofInstant(instant(at).plus(AHEAD), ZoneOffset.UTC)
                            .withNano(0),
                        Optional.empty(),
                        false));
    FrameMetadata none = FrameMetadata.NONE;
    at(
        seconds,
        new Input.FrameMeasured(
            Readings.holding(
                file,
                new FrameMetadata(
                    none.shutter(),
                    none.aperture(),
                    none.iso(),
                    none.compensation(),
                    captured,
                    none.orientation(),
                    none.camera()))));
  }

  private Optional<String> refusal() {
    return Releases.refusal(state);
  }

  private List<Event> releaseEvents() {
    return events.stream().filter(it -> !(it instanceof Event.FrameWatched)).toList();
  }

  private static Event.ShotCommanded commanded(int shot) {
    return new Event.ShotCommanded(shot, 1, Optional.empty());
  }

  @Test
  void countsDownAndThenCommandsOnce() {
    greeted();
    at(1, new Input.ReleaseAsked(5));
    assertEquals(List.of(new Event.ReleaseAsked(1, 5)), events);
    assertEquals(List.of(new Effect.WakeAt(instant(6))), effects);
    at(5.9, new Input.ClockTicked());
    assertEquals(List.of(), events);
    at(6, new Input.ClockTicked());
    assertEquals(List.of(commanded(1)), events);
    assertEquals(new Effect.Press(1), effects.get(0), "after it is on record");
    assertEquals(new Effect.WakeAt(instant(26)), effects.get(1), "its frame has 20 s");
    at(6.2, new Input.ReleaseConfirmed(1));
    at(7, new Input.ClockTicked());
    assertEquals(List.of(), events);
    lands(8, "A.JPG", null);
    assertEquals(
        List.of(new Event.ReleaseAnswered(1, "A.JPG", Match.Proof.ARRIVAL)), releaseEvents());
    at(60, new Input.ClockTicked());
    assertEquals(List.of(), events);
    assertTrue(refusal().isEmpty());
  }

  @Test
  void withoutACountDownItIsCommandedAtOnce() {
    greeted();
    at(1, new Input.ReleaseAsked(0));
    assertEquals(List.of(new Event.ReleaseAsked(1, 0), commanded(1)), events);
    assertEquals(new Effect.Press(1), effects.get(0));
  }

  @ParameterizedTest
  @ValueSource(ints = {-1, 1, 3, 11, 3600})
  void knowsFourCountDowns(int seconds) {
    assertThrows(IllegalArgumentException.class, () -> new Input.ReleaseAsked(seconds));
  }

  @Test
  void isTakenBackWhileItCounts() {
    greeted();
    at(1, new Input.ReleaseAsked(10));
    at(3, new Input.WithdrawalAsked());
    assertEquals(List.of(new Event.ReleaseWithdrawn(1, "an operator took it back")), events);
    at(11, new Input.ClockTicked());
    assertEquals(List.of(), events);
    at(12, new Input.WithdrawalAsked());
    assertEquals(List.of(), events);
    at(13, new Input.ReleaseAsked(0));
    at(13.5, new Input.WithdrawalAsked());
    assertEquals(List.of(), events, "what is commanded cannot be taken back");
    assertTrue(state.shot(2).isAwaitingFrame());
  }

  @Test
  void thereAreNeverTwoAtOnce() {
    greeted();
    at(1, new Input.ReleaseAsked(5));
    assertEquals(Optional.of("a count-down is running"), refusal());
    at(2, new Input.ReleaseAsked(0));
    assertEquals(List.of(), events);
    at(6, new Input.ClockTicked());
    assertEquals(Optional.of("the frame of release 1 has not come yet"), refusal());
    at(7, new Input.ReleaseAsked(0));
    assertEquals(List.of(), events);
    lands(8, "A.JPG", 6.1);
    assertEquals(Optional.of("the trigger is still busy with release 1"), refusal());
    at(9, new Input.ReleaseConfirmed(1));
    at(10, new Input.ReleaseAsked(0));
    assertEquals(List.of(new Event.ReleaseAsked(2, 0), commanded(2)), events);
  }

  @Test
  void isRefusedInAPlainSentence() {
    assertEquals(Optional.of("the session has not begun yet"), refusal());
    open("");
    assertEquals(
        Optional.of("this session has no trigger; start it with --trigger and --port"), refusal());
    at(1, new Input.ReleaseAsked(0));
    assertEquals(List.of(), events);
    state = State.EMPTY;
    open("release-only");
    assertEquals(Optional.of("the trigger has not answered yet"), refusal());
    at(1, new Input.TriggerLost("the port is gone"));
    assertEquals(Optional.of("the trigger is lost; it is being asked for again"), refusal());
    at(2, new Input.ReleaseAsked(0));
    assertEquals(List.of(), events);
    at(3, new Input.TriggerGreeted("box"));
    assertEquals(Optional.empty(), refusal());
    at(4, new Input.StopAsked());
    assertEquals(Optional.of("the session has ended"), refusal());
  }

  @Test
  void aLostTriggerOrTheEndTakesACountDownBack() {
    greeted();
    at(1, new Input.ReleaseAsked(10));
    at(2, new Input.TriggerLost("the port is gone"));
    assertEquals(
        new Event.ReleaseWithdrawn(1, "the trigger was lost while it was counted down"),
        events.get(1));
    at(3, new Input.TriggerGreeted("box"));
    at(4, new Input.ReleaseAsked(10));
    at(5, new Input.StopAsked());
    assertEquals(
        new Event.ReleaseWithdrawn(2, "the session ended while it was counted down"),
        events.get(0));
    assertTrue(state.isClosed());
  }

  @Test
  void nothingIsReleasedAtTheVeryEnd() {
    longest = Optional.of(Duration.ofSeconds(6));
    greeted();
    at(1, new Input.ReleaseAsked(5));
    at(6, new Input.ClockTicked());
    assertTrue(state.isClosed());
    assertEquals(List.of(new Effect.Shut()), effects);
    assertEquals(
        new Event.ReleaseWithdrawn(1, "the session ended while it was counted down"),
        events.get(0));
  }

  @Test
  void withoutAFrameInTimeItIsLost() {
    greeted();
    at(1, new Input.ReleaseAsked(0));
    at(20.9, new Input.ClockTicked());
    assertEquals(List.of(), events);
    at(21, new Input.ClockTicked());
    assertEquals(List.of(new Event.ShotLost(1, "no frame came within 20 s.")), events);
    lands(23, "LATE.JPG", 1.1);
    assertEquals(List.of(), releaseEvents(), "it is shown as any other frame");
  }

  @Test
  void isNotWaitedForWhileTheFolderIsAway() {
    greeted();
    at(1, new Input.ReleaseAsked(0));
    at(2, new Input.FolderLost("no such folder"));
    at(30, new Input.ClockTicked());
    assertEquals(List.of(), events);
    at(31, new Input.FolderReturned());
    at(50, new Input.ClockTicked());
    assertEquals(List.of(), events);
    at(51, new Input.ClockTicked());
    assertEquals(List.of(new Event.ShotLost(1, "no frame came within 20 s.")), events);
  }

  @Test
  void aRefusedReleaseIsOver() {
    greeted();
    at(1, new Input.ReleaseAsked(0));
    at(1.2, new Input.ReleaseRefused(1, "the camera is busy"));
    assertEquals(List.of(new Event.ShotRefused(1, "the camera is busy")), events);
    assertEquals(Optional.empty(), refusal());
    lands(3, "OWN.JPG", null);
    assertEquals(List.of(), releaseEvents());
  }

  @Test
  void aCommandedReleaseIsNeverRepeated() {
    greeted();
    at(1, new Input.ReleaseAsked(0));
    // The power goes, and the program is started again.
    at(40, new Input.Begun());
    at(41, new Input.TriggerGreeted("box"));
    assertTrue(effects.stream().noneMatch(it -> it instanceof Effect.Press), effects.toString());
    assertEquals(Optional.of("the frame of release 1 has not come yet"), refusal());
    at(59.9, new Input.ClockTicked());
    assertEquals(List.of(), events);
    at(60, new Input.ClockTicked());
    assertEquals(List.of(new Event.ShotLost(1, "no frame came within 20 s.")), events);
  }

  @Test
  void aCountDownDoesNotOutliveTheProgram() {
    greeted();
    at(1, new Input.ReleaseAsked(10));
    at(40, new Input.Begun());
    assertEquals(
        new Event.ReleaseWithdrawn(1, "the program was started again while it was counted down"),
        events.get(1));
    at(41, new Input.TriggerGreeted("box"));
    at(42, new Input.ClockTicked());
    assertEquals(List.of(), events);
  }

  @Test
  void aFrameThatWasTakenBeforeIsNotWhatItBrought() {
    greeted();
    lands(2, "OWN.JPG", 1.4);
    // The photographer presses, and then an operator before that frame is here.
    at(10, new Input.ReleaseAsked(0));
    lands(10.5, "OWN_2.JPG", 7.2);
    assertEquals(List.of(), releaseEvents());
    lands(11.5, "A.JPG", 10.2);
    assertEquals(
        List.of(new Event.ReleaseAnswered(1, "A.JPG", Match.Proof.CAPTURE_TIME)), releaseEvents());
  }

  @Test
  void theFirstFrameOfAllIsTakenAtItsArrival() {
    greeted();
    at(10, new Input.ReleaseAsked(0));
    lands(11.5, "A.JPG", 10.2);
    assertEquals(
        List.of(new Event.ReleaseAnswered(1, "A.JPG", Match.Proof.ARRIVAL)), releaseEvents());
  }

  @Test
  void aClockThatWasPutBackIsNotTakenForAnOldFrame() {
    greeted();
    lands(2, "OWN.JPG", 1.4);
    at(10, new Input.ReleaseAsked(0));
    lands(11.5, "A.JPG", 10.2 - 3_600);
    assertEquals(
        List.of(new Event.ReleaseAnswered(1, "A.JPG", Match.Proof.ARRIVAL)), releaseEvents());
  }

  @Test
  void aLateFrameThatSaysNothingIsNotTheNextReleases() {
    greeted();
    at(1, new Input.ReleaseAsked(0));
    at(1.2, new Input.ReleaseConfirmed(1));
    at(21, new Input.ClockTicked());
    at(22, new Input.ReleaseAsked(0));
    lands(23, "LATE.JPG", null);
    assertEquals(List.of(), releaseEvents());
    lands(24, "B.JPG", 22.3);
    assertEquals(
        List.of(new Event.ReleaseAnswered(2, "B.JPG", Match.Proof.ARRIVAL)), releaseEvents());
  }

  @Test
  void aRawFileOfTheSamePressIsNoSecondFrame() {
    greeted();
    lands(2, "A.JPG", null);
    at(3, new Input.ReleaseAsked(0));
    at(
        4,
        new Input.FrameMeasured(Readings.holding("A.DNG", FrameMetadata.NONE).inPlaceOf("A.JPG")));
    assertEquals(List.of(), releaseEvents());
    assertTrue(state.shot(1).isAwaitingFrame());
  }
}
