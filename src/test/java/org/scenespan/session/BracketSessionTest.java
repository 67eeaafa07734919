package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/** What each input means to a bracket. */
class BracketSessionTest {
  @Test
  void metersThenCommandsTheFirstShotWhereThePriorPutsIt() {
    Script script = new Script();
    script.open(Script.setup(Optional.empty()));
    assertEquals(List.of("TriggerGreeted"), script.at(0, new Input.TriggerGreeted("it")));
    assertTrue(script.effects().contains(new Effect.ReadMeter()));
    assertEquals(
        List.of("SceneMetered", "ShotPlanned", "ShotCommanded"),
        script.at(0.1, new Input.SceneMetered(new Ev(11))));
    assertEquals(11, script.exposure(1).ev().value(), 1e-9);
    assertEquals(1, script.releases());
  }

  @Test
  void startsAtThePhotographersExposureWithoutAMeter() {
    Script script = new Script();
    Exposure start = new Exposure(Shutter.parse("1/60"), Aperture.parse("f/8"), Iso.parse("100"));
    script.open(Script.setup(Optional.of(start)));
    script.at(0, new Input.TriggerGreeted("it"));
    assertFalse(script.effects().contains(new Effect.ReadMeter()));
    assertEquals(start, script.exposure(1));
  }

  @Test
  void endsCoveredWhenAFrameHoldsTheScene() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "BracketReport"),
        script.at(1, new Input.FrameMeasured(holding(script, 1, "A.DNG", 0.1))));
    assertEquals(Stopped.COVERED, script.report().stopped());
    assertTrue(script.report().covered());
    assertTrue(script.effects().contains(new Effect.Shut()));
    assertEquals(List.of(), script.at(2, new Input.StopAsked()), "a closed session does nothing");
  }

  @Test
  void waitsForTheTriggersAnswerEvenIfTheFrameIsFaster() {
    Script script = Script.afterFirstCommand();
    script.at(0.2, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    assertEquals(1, script.releases(), "the trigger may still be busy");
    assertEquals(
        List.of("ShotConfirmed", "ShotPlanned", "ShotCommanded"),
        script.at(0.3, new Input.ReleaseConfirmed(1)));
  }

  @Test
  void takesALostShotAgainAClickApart() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    assertEquals(Script.time(10.3), script.wake());
    assertEquals(
        List.of("ShotLost", "ShotPlanned", "ShotCommanded"),
        script.at(10.3, new Input.ClockTicked()));
    assertEquals(2, script.state().shot(2).attempt());
    assertFalse(script.exposure(2).isSameSetting(script.exposure(1)));
    assertEquals(
        1.0 / 3, Math.abs(script.exposure(2).ev().minus(script.exposure(1).ev()).value()), 1e-9);
  }

  @Test
  void takesALostShotAgainAsItWasOnceTheCamerasClockIsKnown() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(1, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    script.at(1.3, new Input.ReleaseConfirmed(2));
    script.at(11.3, new Input.ClockTicked());
    assertEquals(script.exposure(2), script.exposure(3));
    script.at(11.6, new Input.ReleaseConfirmed(3));
    script.at(12, new Input.FrameMeasured(clipping(script, 2, "LATE.DNG", 1.1)));
    assertEquals(2, script.last(Event.FrameAccepted.class).shot());
    script.at(12.1, new Input.FrameMeasured(holding(script, 3, "C.DNG", 311.4)));
    assertEquals(3, script.last(Event.FrameAccepted.class).shot());
  }

  @Test
  void givesALateFrameToItsOwnShotAndNeverToTheNext() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(10.3, new Input.ClockTicked());
    script.at(10.6, new Input.ReleaseConfirmed(2));
    script.at(11, new Input.FrameMeasured(clipping(script, 1, "LATE.DNG", 0.1)));
    Event.FrameAccepted late = script.last(Event.FrameAccepted.class);
    assertEquals(1, late.shot());
    assertTrue(late.late());
    assertEquals(2, script.releases(), "shot 2 is still waited for");
    script.at(11.2, new Input.FrameMeasured(clipping(script, 2, "B.DNG", 10.4)));
    assertEquals(2, script.last(Event.FrameAccepted.class).shot());
  }

  @Test
  void givesUpAfterItsRetakes() {
    Script script = Script.afterFirstCommand();
    for (int shot = 1; shot <= 4; shot++) {
      assertFalse(script.state().isClosed());
      script.at(20 * shot, new Input.ReleaseConfirmed(shot));
      script.at(20 * shot + 10, new Input.ClockTicked());
    }
    assertEquals(Stopped.FRAMES_MISSING, script.report().stopped());
    assertEquals(4, script.releases());
    assertFalse(script.report().covered());
  }

  @Test
  void asksARefusingTriggerAgainAfterASecondAndThenReportsIt() {
    Script script = Script.afterFirstCommand();
    assertEquals(List.of("ShotRefused"), script.at(0.1, new Input.ReleaseRefused(1, "busy")));
    assertEquals(Script.time(1.1), script.wake());
    assertEquals(List.of("ShotPlanned", "ShotCommanded"), script.at(1.1, new Input.ClockTicked()));
    assertEquals(script.exposure(1), script.exposure(2), "nothing was taken: the same again");
    for (int shot = 2; shot <= 4; shot++) {
      script.at(2 * shot, new Input.ReleaseRefused(shot, "busy"));
      script.at(2 * shot + 1, new Input.ClockTicked());
    }
    assertEquals(Stopped.TRIGGER_FAILED, script.report().stopped());
  }

  @Test
  void waitsForTheFrameOfAnUnconfirmedShot() {
    Script script = Script.afterFirstCommand();
    script.at(5, new Input.ReleaseUnconfirmed(1, "no answer"));
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "BracketReport"),
        script.at(6, new Input.FrameMeasured(holding(script, 1, "A.DNG", 0.2))));
  }

  @Test
  void leavesAContradictingFrameAlone() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    Exposure other = script.exposure(1).withShutter(Shutter.parse("1/15"));
    FrameMetadata wrong = Readings.metadata(other, Script.time(0.1));
    assertEquals(
        List.of("FrameStray"),
        script.at(1, new Input.FrameMeasured(Readings.holding("A.DNG", wrong))));
    String reason = script.last(Event.FrameStray.class).reason();
    assertTrue(reason.contains("1/15 s") && reason.contains("1/30 s"), reason);
  }

  @Test
  void leavesAPressOfThePhotographersOwnAlone() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(1, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    script.at(1.3, new Input.ReleaseConfirmed(2));
    FrameMetadata press = Readings.metadata(script.exposure(2), Script.time(-300));
    assertEquals(
        List.of("FrameStray"),
        script.at(2, new Input.FrameMeasured(Readings.holding("OWN.DNG", press))));
  }

  @Test
  void acceptsAFrameWithoutMetadataOnlyWhileNothingElseCouldBeIts() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(10.3, new Input.ClockTicked());
    script.at(10.5, new Input.ReleaseConfirmed(2));
    assertEquals(
        List.of("FrameStray"),
        script.at(11, new Input.FrameMeasured(Readings.holding("A.DNG", FrameMetadata.NONE))));

    Script fresh = Script.afterFirstCommand();
    fresh.at(0.3, new Input.ReleaseConfirmed(1));
    fresh.at(1, new Input.FrameMeasured(Readings.holding("A.DNG", FrameMetadata.NONE)));
    assertEquals(Match.Proof.ARRIVAL, fresh.last(Event.FrameAccepted.class).matched());
  }

  @Test
  void holdsAndContinues() {
    Script script = Script.afterFirstCommand();
    assertEquals(List.of("SessionHeld"), script.at(0.1, new Input.HoldAsked()));
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(1, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    assertEquals(1, script.releases());
    assertEquals(
        List.of("SessionContinued", "ShotPlanned", "ShotCommanded"),
        script.at(30, new Input.ContinueAsked()));
  }

  @Test
  void stopsWhenAsked() {
    Script script = Script.afterFirstCommand();
    script.at(1, new Input.StopAsked());
    assertEquals(Stopped.ASKED, script.report().stopped());
  }

  @Test
  void outlivesAPulledCable() {
    Script script = Script.afterFirstCommand();
    assertEquals(List.of("TriggerLost"), script.at(0.2, new Input.TriggerLost("cable")));
    assertEquals(Shot.Standing.UNCONFIRMED, script.state().shot(1).standing());
    script.at(1, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    assertEquals(1, script.releases(), "nothing is commanded without a trigger");
    assertEquals(
        List.of("TriggerGreeted", "ShotPlanned", "ShotCommanded"),
        script.at(20, new Input.TriggerGreeted("it")));
  }

  @Test
  void endsWhenTheTriggerStaysAway() {
    Script script = Script.afterFirstCommand();
    script.at(1, new Input.TriggerLost("cable"));
    script.at(1.1, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    script.at(61, new Input.ClockTicked());
    assertEquals(Stopped.TRIGGER_FAILED, script.report().stopped());
  }

  @Test
  void endsAtOnceWhenTheTriggerNeverAnswers() {
    Script script = new Script();
    script.open(Script.setup(Optional.empty()));
    script.at(3, new Input.TriggerLost("no answer to *IDN?"));
    assertEquals(Stopped.TRIGGER_FAILED, script.report().stopped());
  }

  @Test
  void countsTheWaitForAFrameAnewWhenTheFolderReturns() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(1, new Input.FolderLost("gone"));
    assertEquals(List.of(), script.at(15, new Input.ClockTicked()));
    script.at(20, new Input.FolderReturned());
    assertEquals(Script.time(30), script.wake());
    script.at(21, new Input.FrameMeasured(holding(script, 1, "A.DNG", 0.1)));
    assertEquals(Stopped.COVERED, script.report().stopped());
  }

  @Test
  void waitsForTheFrameOfAShotThatWasCommandedBeforeACrash() {
    Script script = Script.afterFirstCommand();
    assertEquals(List.of("SessionResumed"), script.at(100, new Input.Begun()));
    assertEquals(List.of("TriggerGreeted"), script.at(101, new Input.TriggerGreeted("it")));
    assertEquals(1, script.releases());
    assertEquals(Script.time(110), script.wake());
    script.at(102, new Input.FrameMeasured(holding(script, 1, "A.DNG", 0.1)));
    assertEquals(Stopped.COVERED, script.report().stopped());
  }

  private static FrameReading holding(Script script, int shot, String file, double second) {
    return Readings.holding(file, Readings.metadata(script.exposure(shot), Script.time(second)));
  }

  /** Its capture time is by a camera clock that is 300 s ahead. */
  private static FrameReading clipping(Script script, int shot, String file, double second) {
    return Readings.clipping(
        file, Readings.metadata(script.exposure(shot), Script.time(second + 300)));
  }

  /** After an hour's jump of the camera's clock, such as at a time-zone change. */
  @Test
  void knowsAFrameByItsSettingsWhenTheCamerasClockWasPutForward() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(1, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    script.at(1.3, new Input.ReleaseConfirmed(2));
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "BracketReport"),
        script.at(2, new Input.FrameMeasured(holding(script, 2, "B.DNG", 3901.1))));
    Event.FrameAccepted frame = script.last(Event.FrameAccepted.class);
    assertEquals(Match.Proof.EXPOSURE, frame.matched());
    CameraClock learned = frame.clock().orElseThrow();
    assertTrue(learned.least().toSeconds() >= 3890 && learned.most().toSeconds() <= 3910);
  }

  @Test
  void setsTheSecondRetakeApartEvenIfTheClockSeemsKnown() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(1, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    for (int shot = 2; shot <= 3; shot++) {
      script.at(20 * shot, new Input.ReleaseConfirmed(shot));
      script.at(20 * shot + 10, new Input.ClockTicked());
    }
    assertEquals(script.exposure(2), script.exposure(3));
    assertFalse(script.exposure(4).isSameSetting(script.exposure(3)));
    script.at(71, new Input.ReleaseConfirmed(4));
    script.at(72, new Input.FrameMeasured(holding(script, 4, "B.DNG", -7000)));
    assertEquals(4, script.last(Event.FrameAccepted.class).shot());
  }

  @Test
  void takesAFileOfANewCardForWhatItIsThoughItsNameWasThere() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    FrameReading first = clipping(script, 1, "A.DNG", 0.1);
    script.at(1, new Input.FrameMeasured(first));
    script.at(1.1, new Input.FrameMeasured(first));
    assertEquals(
        "a file of this name was already dealt with", script.last(Event.FrameStray.class).reason());
    FrameMetadata own = first.metadata();
    // As the journal has an odd shutter, to seven digits, when the session is resumed.
    FrameMetadata rounded =
        new FrameMetadata(
            own.shutter().map(shutter -> new Shutter(shutter.seconds() * (1 + 1e-8))),
            own.aperture(),
            own.iso(),
            own.compensation(),
            own.capturedAt(),
            own.orientation(),
            own.camera(),
            own.automatics());
    FrameReading again = Readings.clipping("A.DNG", rounded);
    assertEquals(List.of("FrameStray"), script.at(1.2, new Input.FrameMeasured(again)));
    assertEquals(
        "a file of this name was already dealt with", script.last(Event.FrameStray.class).reason());
    script.at(1.3, new Input.ReleaseConfirmed(2));
    script.at(2, new Input.FrameMeasured(holding(script, 2, "A.DNG", 301.1)));
    assertEquals(2, script.last(Event.FrameAccepted.class).shot());
  }

  /** Without metadata a rewritten file would pass for the next shot's by its arrival. */
  @Test
  void leavesARewrittenFileAloneThatSaysNothingOfItself() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    FrameReading mute = Readings.clipping("A.DNG", FrameMetadata.NONE);
    script.at(1, new Input.FrameMeasured(mute));
    assertEquals(1, script.last(Event.FrameAccepted.class).shot());
    assertEquals(List.of("FrameStray"), script.at(1.5, new Input.FrameMeasured(mute)));
  }

  @Test
  void countsTheTriesAnewWhenALateFrameBroughtItForward() {
    Script script = Script.afterFirstCommand();
    for (int shot = 1; shot <= 3; shot++) {
      script.at(20 * shot, new Input.ReleaseConfirmed(shot));
      script.at(20 * shot + 10, new Input.ClockTicked());
    }
    assertEquals(4, script.state().shot(4).attempt());
    script.at(70.5, new Input.FrameMeasured(clipping(script, 1, "LATE.DNG", 0.1)));
    script.at(71, new Input.ReleaseConfirmed(4));
    script.at(81, new Input.ClockTicked());
    assertFalse(script.state().isClosed(), "a frame came in since shot 4 was decided on");
    assertEquals(1, script.state().shot(5).attempt());
  }

  /** The frame that covers the scene arrives late, while trigger and folder are gone for good. */
  @Test
  void endsCoveredWithoutATriggerThatIsNotNeededAnyMore() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.TriggerLost("the port is gone"));
    script.at(1, new Input.FrameMeasured(holding(script, 1, "A.DNG", 0.1)));
    assertEquals(Stopped.COVERED, script.report().stopped());
  }

  @Test
  void endsCoveredWhenTheFolderStaysAwayFromAHeldSessionThatNeedsNoMore() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(0.4, new Input.HoldAsked());
    script.at(1, new Input.FrameMeasured(holding(script, 1, "A.DNG", 0.1)));
    assertFalse(script.state().isClosed(), "held");
    script.at(2, new Input.FolderLost("gone"));
    script.at(62, new Input.ClockTicked());
    assertEquals(Stopped.COVERED, script.report().stopped());
  }

  /** Power cut within an append: the accepted frame is on disk, the estimate after it is not. */
  @Test
  void estimatesAgainWhenResumed() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(1, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    assertEquals(List.of("SessionResumed", "SpanEstimated"), script.at(2, new Input.Begun()));
  }

  /**
   * Between two runs the host's clock may be set; by the old one a frame could pass for another.
   */
  @Test
  void forgetsTheCamerasClockWhenResumed() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(1, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    assertTrue(script.state().clock().isPresent());
    script.at(2, new Input.Begun());
    assertTrue(script.state().clock().isEmpty());
    script.at(3, new Input.TriggerGreeted("test"));
    script.at(13, new Input.ClockTicked());
    assertFalse(script.exposure(3).isSameSetting(script.exposure(2)), "nothing else tells them");
  }

  /** A retake one click off was taken; taken once more it would bring nothing. */
  @Test
  void doesNotRepeatARetakeThatWasTaken() {
    Script script = Script.afterFirstCommand();
    script.at(0.3, new Input.ReleaseConfirmed(1));
    script.at(10.3, new Input.ClockTicked());
    script.at(10.6, new Input.ReleaseConfirmed(2));
    FrameMetadata timeless = Readings.withoutTime(script.exposure(2));
    script.at(11, new Input.FrameMeasured(Readings.clipping("B.DNG", timeless)));
    script.at(11.3, new Input.ReleaseConfirmed(3));
    script.at(21.3, new Input.ClockTicked());
    List<Exposure> asked =
        List.of(script.exposure(1), script.exposure(2), script.exposure(3), script.exposure(4));
    assertEquals(4, asked.stream().distinct().count());
  }

  @Test
  void keepsWhatIsSaidOfAFrameAndLeavesATethersWishesAlone() {
    Script script = Script.afterFirstCommand();
    script.at(0.2, new Input.FrameMeasured(clipping(script, 1, "A.DNG", 0.1)));
    script.at(0.3, new Input.MarkAsked("A.DNG", Mark.REJECT, "x".repeat(900)));
    assertEquals(List.of(), script.at(0.4, new Input.MarkAsked("B.DNG", Mark.KEEP, "")));
    assertEquals(List.of(), script.at(0.5, new Input.ReferenceAsked("A.DNG", Optional.empty())));
    assertEquals(Mark.REJECT, script.state().tether().marks().get("A.DNG").mark());
    assertEquals(
        CommonRules.LONGEST_NOTE, script.state().tether().marks().get("A.DNG").note().length());
  }
}
