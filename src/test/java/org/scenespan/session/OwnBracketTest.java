package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/**
 * A camera that keeps its own exposure, that a session can only release. It may take up to 30 s,
 * which is 32 s exactly; a file may take 10 s after it, the trigger 5 s to answer; a lost shot's
 * frame hardly comes after a minute.
 */
class OwnBracketTest {
  private static Script released(int framesPerRelease) {
    Script script = new Script();
    script.open(Script.setup(Optional.empty(), false, Optional.of(new Gear.Own(framesPerRelease))));
    script.at(0, new Input.TriggerGreeted("box"));
    script.at(0.1, new Input.ReleaseConfirmed(1));
    return script;
  }

  private static Exposure exposure(String shutter) {
    return new Exposure(Shutter.parse(shutter), Aperture.parse("f/8"), Iso.parse("100"));
  }

  /** By a camera clock that is 300 s ahead. */
  private static FrameMetadata metadata(String shutter, double second) {
    return Readings.metadata(exposure(shutter), Script.time(second + 300));
  }

  private static List<String> clipping(
      Script script, double at, String file, String shutter, double second) {
    return script.at(
        at, new Input.FrameMeasured(Readings.clipping(file, metadata(shutter, second))));
  }

  private static int creditedShot(Script script) {
    return script.last(Event.FrameAccepted.class).shot();
  }

  @Test
  void releasesWithoutAMeterAndWithoutAnExposure() {
    Script script = new Script();
    script.open(Script.setup(Optional.empty(), false, Optional.of(new Gear.Own(1))));
    assertEquals(
        List.of("TriggerGreeted", "ShotPlanned", "ShotCommanded"),
        script.at(0, new Input.TriggerGreeted("box")));
    assertFalse(script.effects().contains(new Effect.ReadMeter()));
    assertTrue(script.last(Event.ShotPlanned.class).exposure().isEmpty());
    assertTrue(script.last(Event.ShotCommanded.class).exposure().isEmpty());
    assertEquals(1, script.releases());
  }

  @Test
  void takesTheExposureFromTheFrameAndEndsCovered() {
    Script script = released(1);
    FrameReading frame = Readings.holding("A.JPG", metadata("1/60", 0.1));
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "BracketReport"),
        script.at(1, new Input.FrameMeasured(frame)));
    Event.FrameAccepted accepted = script.last(Event.FrameAccepted.class);
    assertEquals(exposure("1/60"), accepted.exposure());
    assertEquals(Match.Proof.ARRIVAL, accepted.matched());
    assertEquals(Stopped.COVERED, script.report().stopped());
  }

  /** 0, -2 and 0 again: the camera's own bracket of two is through. */
  @Test
  void goesOnWhileWhatComesIsNewAndThenSaysWhatWouldCloseIt() {
    Script script = released(1);
    clipping(script, 1, "A.JPG", "1/60", 0.1);
    assertEquals(2, script.releases());
    script.at(1.1, new Input.ReleaseConfirmed(2));
    clipping(script, 2, "B.JPG", "1/250", 1.1);
    assertEquals(Match.Proof.CAPTURE_TIME, script.last(Event.FrameAccepted.class).matched());
    script.at(2.1, new Input.ReleaseConfirmed(3));
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "BracketReport"),
        clipping(script, 3, "C.JPG", "1/60", 2.1));
    assertEquals(Stopped.LIMIT, script.report().stopped());
    assertEquals(3, script.report().frames().size());
    String why = script.report().why();
    assertTrue(why.contains("Open above") && why.contains("compensation -"), why);
  }

  @Test
  void countsTheFramesOfOneReleaseTogether() {
    Script script = released(3);
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated"), clipping(script, 1, "A.JPG", "1/60", 0.1));
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated"), clipping(script, 1.5, "B.JPG", "1/250", 0.5));
    assertEquals(1, script.releases(), "a third frame is awaited");
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "BracketReport"),
        clipping(script, 2, "C.JPG", "1/15", 0.9));
    assertEquals(Stopped.LIMIT, script.report().stopped());
    assertTrue(script.report().why().startsWith("The camera's own bracket is through."));
    assertEquals(3, script.state().frames().stream().filter(it -> it.shot() == 1).count());
  }

  @Test
  void waitsForTheRestOfABracketAndThenReleasesAgain() {
    Script script = released(3);
    clipping(script, 1, "A.JPG", "1/60", 0.1);
    // Two frames of up to 32 s may follow, and the file of the second may take 10 s.
    assertEquals(Script.time(75), script.wake());
    assertEquals(
        List.of("ShotLost", "ShotPlanned", "ShotCommanded"),
        script.at(75, new Input.ClockTicked()));
    assertEquals("only 1 of its 3 frames came in time", script.last(Event.ShotLost.class).reason());
    assertEquals(1, script.state().shot(2).attempt(), "something did come");
    clipping(script, 76, "B.JPG", "1/250", 0.6);
    assertEquals(1, creditedShot(script), "the late rest of release 1");
    clipping(script, 77, "C.JPG", "1/60", 75.1);
    assertEquals(2, creditedShot(script));
  }

  /** Nothing would tell the frame of shot 1 from shot 2's: no clock is known yet. */
  @Test
  void holdsTheNextReleaseBackWhileALateFrameWouldPassForItsOwn() {
    Script script = released(1);
    assertEquals(Script.time(42), script.wake());
    assertEquals(List.of("ShotLost"), script.at(42, new Input.ClockTicked()));
    assertEquals(Script.time(102), script.wake());
    clipping(script, 60, "LATE.JPG", "1/60", 0.1);
    assertEquals(1, creditedShot(script));
    assertTrue(script.last(Event.FrameAccepted.class).late());
    assertEquals(2, script.releases(), "now the clock is known");

    Script nothing = released(1);
    nothing.at(42, new Input.ClockTicked());
    assertEquals(List.of(), nothing.at(101, new Input.ClockTicked()));
    assertEquals(List.of("ShotPlanned", "ShotCommanded"), nothing.at(102, new Input.ClockTicked()));
    nothing.at(102.1, new Input.ReleaseConfirmed(2));
    clipping(nothing, 103, "B.JPG", "1/60", 102.1);
    assertEquals(2, creditedShot(nothing));
  }

  @Test
  void givesALateFrameToItsOwnReleaseByItsCaptureTime() {
    Script script = released(1);
    clipping(script, 1, "A.JPG", "1/60", 0.1);
    script.at(1.1, new Input.ReleaseConfirmed(2));
    assertEquals(
        List.of("ShotLost", "ShotPlanned", "ShotCommanded"),
        script.at(43.1, new Input.ClockTicked()));
    script.at(43.2, new Input.ReleaseConfirmed(3));
    clipping(script, 44, "LATE.JPG", "1/250", 1.1);
    assertEquals(2, creditedShot(script));
    clipping(script, 45, "C.JPG", "1/15", 43.2);
    assertEquals(3, creditedShot(script));
  }

  @Test
  void leavesAloneWhatItCannotPlaceOrHasAlready() {
    Script script = released(1);
    FrameReading mute = Readings.clipping("MUTE.JPG", FrameMetadata.NONE);
    assertEquals(List.of("FrameStray"), script.at(0.5, new Input.FrameMeasured(mute)));
    clipping(script, 1, "A.JPG", "1/60", 0.1);
    script.at(1.1, new Input.ReleaseConfirmed(2));
    assertEquals(List.of("FrameStray"), clipping(script, 1.5, "COPY_A.JPG", "1/60", 0.1));
    assertEquals("it is a copy of A.JPG", script.last(Event.FrameStray.class).reason());
    assertEquals(List.of("FrameStray"), clipping(script, 1.6, "OLD.JPG", "1/60", -60));
    assertEquals(List.of("FrameStray"), clipping(script, 1.7, "SOON.JPG", "1/60", 60));
  }

  /** A lens without contacts: the f-number is the one that the photographer says. */
  @Test
  void takesTheFNumberFromThePhotographerWhereTheLensHasNone() {
    Script script = released(1);
    FrameMetadata all = metadata("1/60", 0.1);
    FrameMetadata some =
        new FrameMetadata(
            all.shutter(),
            Optional.empty(),
            all.iso(),
            Optional.empty(),
            all.capturedAt(),
            1,
            Optional.empty());
    script.at(1, new Input.FrameMeasured(Readings.clipping("A.JPG", some)));
    assertEquals(exposure("1/60"), script.last(Event.FrameAccepted.class).exposure());
  }

  @Test
  void knowsAClockThatWasPutToAnotherZone() {
    Script script = released(1);
    clipping(script, 1, "A.JPG", "1/60", 0.1);
    script.at(1.1, new Input.ReleaseConfirmed(2));
    clipping(script, 2, "B.JPG", "1/250", 3601.1);
    assertEquals(2, creditedShot(script));
    script.at(2.1, new Input.ReleaseConfirmed(3));
    clipping(script, 3, "C.JPG", "1/15", 3602.1);
    assertEquals(3, creditedShot(script));
  }

  /**
   * A clock that was put right by any amount is a whole zone off for an earlier release, too: while
   * the frames of two are missing, nothing tells which.
   */
  @Test
  void knowsNoOtherZoneWhileTwoReleasesAreOpen() {
    Script script = released(2);
    clipping(script, 1, "A.JPG", "1/60", 0.1);
    script.at(43, new Input.ClockTicked());
    int awaited = script.state().shots().size();
    assertEquals(2, awaited);
    script.at(44, new Input.ReleaseConfirmed(awaited));
    // 45 minutes ahead of the first release, and of the second by what no zone is.
    assertEquals(List.of("FrameStray"), clipping(script, 46, "B.JPG", "1/250", 2700.5));
  }

  /** A clock that was set anyhow: after two tries it is doubted, and late frames waited out. */
  @Test
  void doubtsTheClockAfterTwoTries() {
    Script script = released(1);
    clipping(script, 1, "A.JPG", "1/60", 0.1);
    script.at(1.1, new Input.ReleaseConfirmed(2));
    assertEquals(List.of("FrameStray"), clipping(script, 2, "B.JPG", "1/250", 1001.1));
    script.at(43.1, new Input.ClockTicked());
    script.at(43.2, new Input.ReleaseConfirmed(3));
    assertEquals(List.of("FrameStray"), clipping(script, 44, "C.JPG", "1/250", 1043.2));
    assertEquals(List.of("ShotLost"), script.at(85.1, new Input.ClockTicked()));
    assertEquals(List.of(), script.at(145, new Input.ClockTicked()));
    assertEquals(
        List.of("ShotPlanned", "ShotCommanded"), script.at(145.1, new Input.ClockTicked()));
    script.at(145.2, new Input.ReleaseConfirmed(4));
    clipping(script, 146, "D.JPG", "1/250", 1145.2);
    assertEquals(4, creditedShot(script));
    script.at(146.1, new Input.ReleaseConfirmed(5));
    clipping(script, 147, "E.JPG", "1/15", 1146.2);
    assertEquals(5, creditedShot(script));
  }

  /** Every release brings another exposure, and the scene clips in all of them. */
  @ParameterizedTest
  @CsvSource({"1, 12", "5, 5"})
  void neverAsksForMoreFramesThanAreAllowed(int framesPerRelease, int frames) {
    Script script = released(framesPerRelease);
    for (int i = 0; i < 40 && !script.state().isClosed(); i++) {
      script.at(i + 0.1, new Input.ReleaseConfirmed(script.state().shots().size()));
      clipping(script, i + 1, i + ".JPG", "1/" + (2 << i), i + 0.2);
    }
    assertEquals(frames, script.report().frames().size());
    assertEquals(
        framesPerRelease == 1 ? Stopped.MOST_FRAMES : Stopped.LIMIT, script.report().stopped());
  }

  @Test
  void givesUpAfterItsRetakesWithoutFrames() {
    Script script = released(1);
    for (int tick = 0; tick < 60 && !script.state().isClosed(); tick++) {
      script.at(20 * tick, new Input.ClockTicked());
    }
    assertEquals(Stopped.FRAMES_MISSING, script.report().stopped());
    assertEquals(4, script.releases());
  }
}
