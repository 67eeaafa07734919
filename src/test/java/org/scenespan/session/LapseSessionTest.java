package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.light.Exposure;

/** A lapse by script: the grid, whose frame is whose, and what does not end it. */
class LapseSessionTest {
  private static double due(int place) {
    return LapseScript.due(place);
  }

  @Test
  void takesAFrameAtEachPlaceOfTheGridAndReports() {
    LapseScript script = LapseScript.greeted(4);
    for (int shot = 1; shot <= 4; shot++) {
      script.whole(shot, "F" + shot);
    }
    script.until(200);
    assertEquals(List.of(due(1), due(2), due(3), due(4)), script.releases());
    assertEquals(List.of("F1 1", "F2 2", "F3 3", "F4 4"), script.credited());
    Event.LapseReport report = script.report();
    assertEquals(Stopped.DONE, report.stopped());
    assertEquals(4, report.frames().size());
    assertEquals(0, report.framesLost());
    assertEquals(30, report.frames().get(3).seconds());
    assertTrue(report.frames().get(3).gainStops().isPresent());
  }

  /**
   * The first that may have been taken teaches the camera's clock: no other may be mistaken for it.
   */
  @Test
  void waitsForTheFrameOfTheFirstShotThatWasFired() {
    LapseScript script = LapseScript.greeted(8);
    script.at(due(1) + 3, new Input.ReleaseRefused(1, "it was too late for it"));
    script.at(due(2) + 6, new Input.ReleaseConfirmed(2));
    script.frame(due(3) + 3.5, "F2", script.taken(2));
    for (int shot = 3; shot <= 4; shot++) {
      double due = due(shot + 1);
      script.at(due + 0.5, new Input.ReleaseConfirmed(shot));
    }
    assertEquals(List.of(due(1), due(2), due(4), due(5)), script.releases());
    assertEquals(List.of("F2 2"), script.credited());
    assertTrue(
        script
            .events()
            .contains(
                new Event.PlacesSkipped(
                    3, 3, "the first frame was waited for, which teaches the camera's clock")));
  }

  /** A first frame that never comes does not hold the rest up. */
  @Test
  void goesOnWhereTheFirstFrameNeverComes() {
    LapseScript script = LapseScript.greeted(8);
    for (int shot = 1; shot <= 4; shot++) {
      script.confirmed(shot);
    }
    script.until(due(5));
    assertEquals(List.of(due(1), due(2), due(3), due(4), due(5)), script.releases());
  }

  /** A trigger that is not done in time costs its places, and nothing is made up for. */
  @Test
  void neverBunchesToCatchUp() {
    LapseScript script = LapseScript.greeted(8);
    script.whole(1, "F1");
    script.at(due(4) + 4, new Input.ReleaseConfirmed(2));
    script.at(due(5) + 0.5, new Input.ReleaseConfirmed(3));
    script.until(due(6));
    assertEquals(List.of(due(1), due(2), due(5), due(6)), script.releases());
    assertTrue(
        script
            .events()
            .contains(
                new Event.PlacesSkipped(3, 4, "the trigger was not done with the shot before")));
  }

  /** One that is done a little late is followed a little late, and the next is on time again. */
  @Test
  void keepsTheGridAfterAShotThatIsALittleLate() {
    LapseScript script = LapseScript.greeted(8);
    script.whole(1, "F1");
    script.at(due(3) + 1, new Input.ReleaseConfirmed(2));
    script.at(due(3) + 2, new Input.ReleaseConfirmed(3));
    script.until(due(4));
    assertEquals(List.of(due(1), due(2), due(3) + 1, due(4)), script.releases());
  }

  @Test
  void goesOnBlindWhereFramesDoNotComeAndSaysSo() {
    LapseScript script = LapseScript.greeted(20);
    script.whole(1, "F1");
    for (int shot = 2; shot <= 8; shot++) {
      script.confirmed(shot);
    }
    assertEquals(8, script.releases().size());
    assertEquals(List.of("blind"), script.state().lapse().alarms());
    assertTrue(
        script.events().stream()
            .anyMatch(it -> it instanceof Event.ShotRamped ramped && ramped.blind()));
    script.whole(9, "F9");
    assertEquals(List.of(), script.state().lapse().alarms());
    assertEquals(List.of("F1 1", "F9 9"), script.credited());
  }

  @Test
  void aFolderThatIsGoneCostsNoFrame() {
    LapseScript script = LapseScript.greeted(20);
    script.whole(1, "F1");
    script.at(12, new Input.FolderLost("gone"));
    for (int shot = 2; shot <= 12; shot++) {
      script.confirmed(shot);
    }
    script.at(due(12) + 2, new Input.FolderReturned());
    for (int shot = 12; shot >= 2; shot--) {
      script.frame(due(12) + 3, "F" + shot, script.taken(shot));
    }
    assertEquals(12, script.credited().size());
    assertTrue(script.credited().contains("F7 7"), script.credited().toString());
  }

  /** A frame whose shot was given up is credited when the next one shows that no clock jumped. */
  @Test
  void creditsALateFrameOnceTheNextOneProvesIt() {
    LapseScript script = LapseScript.greeted(20);
    for (int shot = 1; shot <= 3; shot++) {
      script.whole(shot, "F" + shot);
    }
    script.confirmed(4);
    script.whole(5, "F5");
    List<String> events = script.frame(due(5) + 4, "LATE", script.taken(4));
    assertEquals(List.of("FrameDoubted"), events);
    script.whole(6, "F6");
    assertTrue(script.credited().contains("LATE 4"), script.credited().toString());
    assertEquals(6, script.credited().size());
  }

  /** A camera clock put back by three intervals makes new frames look like a lost one's. */
  @ParameterizedTest
  @ValueSource(doubles = {-10, -20, -30, 10, -900, 900, 3600, -3600, 17.3})
  void learnsAChangedClockAnewAndCreditsNothingWrongly(double jump) {
    LapseScript script = LapseScript.greeted(40);
    for (int shot = 1; shot <= 3; shot++) {
      script.whole(shot, "F" + shot);
    }
    script.confirmed(4);
    script.whole(5, "F5");
    script.whole(6, "F6");
    for (int shot = 7; shot <= 20; shot++) {
      script.confirmed(shot);
      script.frame(due(shot) + 1, "F" + shot, script.taken(shot, 3600 + jump));
    }
    for (String credit : script.credited()) {
      String[] parts = credit.split(" ");
      assertEquals("F" + parts[1], parts[0], "credited rightly");
    }
    assertTrue(script.credited().contains("F20 20"), "learned anew: " + script.credited());
    assertFalse(script.credited().contains("F4 4"));
  }

  /** A file that is written twice under two names is one frame. */
  @Test
  void aCopyOfAFrameIsNoFrame() {
    LapseScript script = LapseScript.greeted(20);
    script.whole(1, "F1");
    script.confirmed(2);
    script.frame(due(2) + 1, "COPY1", script.taken(1));
    script.frame(due(2) + 2, "F2", script.taken(2));
    assertEquals(List.of("F1 1", "F2 2"), script.credited());
  }

  /** Without a capture time a frame counts only where it can be one shot's. */
  @Test
  void aFrameWithoutATimeCountsOnlyWhereItIsAlone() {
    LapseScript script = LapseScript.greeted(20);
    script.confirmed(1);
    Exposure exposure = script.taken(1).metadata().exposure().orElseThrow();
    script.frame(due(1) + 1, "A", Readings.holding("x", Readings.withoutTime(exposure)));
    script.confirmed(2);
    script.confirmed(3);
    script.frame(due(3) + 1, "B", Readings.holding("x", Readings.withoutTime(exposure)));
    assertEquals(List.of("A 1"), script.credited());
  }

  @Test
  void passesOverWhatItIsHeldFor() {
    LapseScript script = LapseScript.greeted(20);
    script.whole(1, "F1");
    script.at(12, new Input.HoldAsked());
    script.at(due(5) + 4, new Input.ContinueAsked());
    script.until(due(6));
    assertEquals(List.of(due(1), due(2), due(6)), script.releases());
    assertTrue(script.events().contains(new Event.PlacesSkipped(3, 5, "it was held")));
  }

  @Test
  void waitsForATriggerThatIsAwayHoweverLong() {
    LapseScript script = LapseScript.greeted(200);
    script.whole(1, "F1");
    script.at(12, new Input.TriggerLost("the port is gone"));
    script.at(due(100) + 5, new Input.TriggerGreeted("test"));
    script.until(due(101));
    assertEquals(List.of(due(1), due(2), due(101)), script.releases());
    assertTrue(script.events().contains(new Event.PlacesSkipped(3, 100, "the trigger was away")));
  }

  @Test
  void aTriggerThatNeverAnsweredEndsItAtOnce() {
    LapseScript script = new LapseScript();
    script = LapseScript.greeted(5);
    LapseScript silent = new LapseScript();
    silent.open(5);
    silent.at(3, new Input.TriggerLost("no answer"));
    assertEquals(Stopped.TRIGGER_FAILED, silent.report().stopped());
    assertEquals(1, script.releases().size());
  }

  /** A hold outlasts the program: it was not for want of it that nothing was taken. */
  @Test
  void passesOverWhatItIsStillHeldForWhenItIsResumed() {
    LapseScript script = LapseScript.greeted(20);
    script.whole(1, "F1");
    script.at(12, new Input.HoldAsked());
    LapseScript later = script.goneUntil(due(4));
    later.at(due(4), new Input.Begun());
    later.at(due(4) + 0.1, new Input.TriggerGreeted("test"));
    later.at(due(5) + 4, new Input.ContinueAsked());
    later.until(due(6));
    assertTrue(later.events().contains(new Event.PlacesSkipped(3, 5, "it was held")));
  }

  /** What was resumed goes on with the same ramp, on the same grid. */
  @Test
  void resumesOnTheSameGridWithTheSameRamp() {
    LapseScript whole = LapseScript.greeted(30);
    LapseScript cut = LapseScript.greeted(30);
    for (int shot = 1; shot <= 8; shot++) {
      whole.whole(shot, "F" + shot);
      cut.whole(shot, "F" + shot);
    }
    double back = due(9) - 4;
    cut.at(back, new Input.Begun());
    cut.at(back + 0.1, new Input.TriggerGreeted("test"));
    whole.until(due(9));
    cut.until(due(9));
    assertEquals(whole.releases(), cut.releases());
    assertEquals(
        whole.state().lapse().shot(9).orElseThrow().exposure(),
        cut.state().lapse().shot(9).orElseThrow().exposure());
    cut.whole(9, "F9");
    assertTrue(cut.credited().contains("F9 9"));
  }

  /** After an interruption the grid goes on where it would have been. */
  @Test
  void passesOverWhatItWasNotRunningFor() {
    LapseScript script = LapseScript.greeted(30);
    script.whole(1, "F1");
    script.at(due(2) + 0.2, new Input.ReleaseConfirmed(2));
    LapseScript later = script.goneUntil(due(7) + 4);
    later.at(due(7) + 4, new Input.Begun());
    later.at(due(7) + 4.1, new Input.TriggerGreeted("test"));
    later.until(due(8));
    assertEquals(due(8), later.releases().get(later.releases().size() - 1));
    assertTrue(
        later.events().contains(new Event.PlacesSkipped(3, 7, "the program was not running")));
  }

  @Test
  void endsWhenItsTimeIsOverWhateverIsMissing() {
    LapseScript script = LapseScript.greeted(3);
    script.whole(1, "F1");
    script.at(12, new Input.TriggerLost("the port is gone"));
    script.until(1000);
    assertEquals(Stopped.TRIGGER_FAILED, script.report().stopped());
    assertEquals(1, script.report().placesSkipped());
    assertEquals(1, script.report().framesLost());
  }

  /** The state does not grow with the lapse but for the account of its frames. */
  @Test
  void remembersAFewShotsOnly() {
    LapseScript script = LapseScript.greeted(400);
    for (int shot = 1; shot <= 300; shot++) {
      script.whole(shot, "F" + shot);
    }
    assertTrue(
        script.state().lapse().shots().size() <= Duration.ofMinutes(10).toSeconds() / 10 + 3,
        script.state().lapse().shots().size() + " shots");
    assertEquals(300, script.credited().size());
  }

  @Test
  void keepsWhatIsSaidOfItsFramesAndGoesOnWhereATethersWishIsAsked() {
    LapseScript script = LapseScript.greeted(8);
    script.whole(1, "F1");
    script.at(due(1) + 2, new Input.MarkAsked("F1", Mark.KEEP, "the first light"));
    assertEquals(List.of(), script.at(due(1) + 3, new Input.MarkAsked("F2", Mark.KEEP, "")));
    assertEquals(
        List.of(), script.at(due(1) + 4, new Input.ReferenceAsked("F1", Optional.empty())));
    assertEquals(List.of(), script.at(due(1) + 5, new Input.WithdrawalAsked()));
    assertEquals("the first light", script.state().tether().marks().get("F1").note());
    script.whole(2, "F2");
    assertEquals(List.of("F1 1", "F2 2"), script.credited());
  }
}
