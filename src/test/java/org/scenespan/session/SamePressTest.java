package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.scenespan.frame.FrameChange;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.light.Ev;
import org.scenespan.light.Iso;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/** Raw file and JPEG of one shutter press are one frame; frames are waited for ten seconds. */
class SamePressTest {
  private static Script afterFirstCommand() {
    Script script = new Script();
    script.open(Script.setup(Optional.empty(), true, Optional.empty()));
    script.at(0, new Input.TriggerGreeted("test"));
    script.at(0, new Input.SceneMetered(new Ev(11)));
    script.at(0.3, new Input.ReleaseConfirmed(1));
    return script;
  }

  private static FrameReading clipping(Script script, int shot, String file, double second) {
    return Readings.clipping(
        file, Readings.metadata(script.exposure(shot), Script.time(second + 300)));
  }

  private static FrameReading holding(Script script, int shot, String file, double second) {
    return Readings.holding(
        file, Readings.metadata(script.exposure(shot), Script.time(second + 300)));
  }

  private static List<String> jpeg(Script script, double at, FrameReading raw, String file) {
    return script.at(at, new Input.FrameMeasured(Readings.jpegOf(raw, file)));
  }

  private static List<String> raw(Script script, double at, FrameReading raw, String jpeg) {
    return script.at(at, new Input.FrameMeasured(raw.inPlaceOf(jpeg)));
  }

  private static List<String> files(Script script) {
    return script.state().frames().stream().map(frame -> frame.frame().file()).toList();
  }

  @Test
  void theRawFileReplacesItsJpegsNumbersAfterTheNextShotWasDecided() {
    Script script = afterFirstCommand();
    FrameReading first = clipping(script, 1, "A.DNG", 0.1);
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "ShotPlanned", "ShotCommanded"),
        jpeg(script, 1, first, "A.JPG"));
    assertEquals(List.of("FrameRefined", "SpanEstimated"), raw(script, 1.2, first, "A.JPG"));
    assertEquals(List.of("A.DNG"), files(script));
    assertEquals(FrameSource.RAW, script.state().frames().get(0).frame().measure().source());
    assertEquals(1, script.last(Event.FrameRefined.class).shot());
    assertEquals(2, script.releases(), "shot 2 is under way");
    assertEquals(Shot.Standing.TAKEN, script.state().shot(1).standing());
  }

  /** A JPEG by a guessed response cannot tell light from tone; its raw file can, and does. */
  @Test
  void aRawFileTellsTheChangeOfLightThatItsJpegCouldNot() {
    Script script = afterFirstCommand();
    FrameReading first = clipping(script, 1, "A.DNG", 0.1);
    jpeg(script, 1, first, "A.JPG");
    raw(script, 1.2, first, "A.JPG");
    script.at(1.3, new Input.ReleaseConfirmed(2));
    FrameReading second = holding(script, 2, "B.DNG", 1.1);
    assertFalse(jpeg(script, 2, second, "B.JPG").contains("LightDrifted"));
    double stops = script.exposure(1).ev().minus(script.exposure(2).ev()).value() + 0.4;
    FrameChange change =
        new FrameChange("A.DNG", new Share(0.5), Share.NONE, new Stops(stops), Optional.empty());
    assertEquals(
        List.of("FrameRefined", "LightDrifted", "SpanEstimated", "BracketReport"),
        raw(script, 2.2, with(change, second), "B.JPG"));
    assertEquals(0.4, script.last(Event.LightDrifted.class).stops().value(), 1e-9);
  }

  private static FrameReading with(FrameChange change, FrameReading plain) {
    return new FrameReading(
        plain.file(),
        plain.format(),
        plain.metadata(),
        plain.measure(),
        Optional.empty(),
        plain.pictures(),
        "sensor",
        List.of(),
        Optional.empty(),
        List.of(change));
  }

  @Test
  void anEndWaitsForTheRawFileAndComesWithIt() {
    Script script = afterFirstCommand();
    FrameReading only = holding(script, 1, "A.DNG", 0.1);
    assertEquals(List.of("FrameAccepted", "SpanEstimated"), jpeg(script, 1, only, "A.JPG"));
    assertEquals(Script.time(11), script.wake());
    assertEquals(
        List.of("FrameRefined", "SpanEstimated", "BracketReport"), raw(script, 3, only, "A.JPG"));
    assertEquals(Stopped.COVERED, script.report().stopped());
    assertEquals("A.DNG", script.report().frames().get(0).file());
  }

  @Test
  void anEndWaitsNoLongerThanAFileMayTake() {
    Script script = afterFirstCommand();
    jpeg(script, 1, holding(script, 1, "A.DNG", 0.1), "A.JPG");
    assertEquals(List.of(), script.at(10.9, new Input.ClockTicked()));
    assertEquals(List.of("BracketReport"), script.at(11, new Input.ClockTicked()));
    assertEquals(Stopped.COVERED, script.report().stopped());
  }

  @Test
  void aRawFileThatSaysMoreThanItsJpegLetsTheSessionGoOn() {
    Script script = afterFirstCommand();
    jpeg(script, 1, holding(script, 1, "A.DNG", 0.1), "A.JPG");
    assertEquals(
        List.of("FrameRefined", "SpanEstimated", "ShotPlanned", "ShotCommanded"),
        raw(script, 2, clipping(script, 1, "A.DNG", 0.1), "A.JPG"));
  }

  /** By the second frame's end the first one's raw file would have been there. */
  @Test
  void aCameraThatWritesNoRawFilesIsNotWaitedForAtTheEnd() {
    Script script = afterFirstCommand();
    jpeg(script, 1, clipping(script, 1, "A.DNG", 0.1), "A.JPG");
    script.at(1.3, new Input.ReleaseConfirmed(2));
    assertEquals(
        List.of("FrameAccepted", "SpanEstimated", "BracketReport"),
        jpeg(script, 11.1, holding(script, 2, "B.DNG", 1.1), "B.JPG"));
  }

  @Test
  void theJpegOfARawFileThatWasFasterIsNoSecondFrame() {
    Script script = afterFirstCommand();
    FrameReading first = clipping(script, 1, "A.DNG", 0.1);
    script.at(1, new Input.FrameMeasured(first));
    assertEquals(List.of("FrameStray"), jpeg(script, 1.1, first, "A.JPG"));
    assertTrue(script.last(Event.FrameStray.class).reason().contains("press as A.DNG"));
  }

  /** The folder remembers no press of the time before; name and metadata tell. */
  @Test
  void theRawFileIsKnownByItsNameAfterARestart() {
    Script script = afterFirstCommand();
    FrameReading first = clipping(script, 1, "A.DNG", 0.1);
    jpeg(script, 1, first, "A.JPG");
    script.at(2, new Input.Begun());
    assertEquals(
        List.of("FrameRefined", "SpanEstimated"), script.at(3, new Input.FrameMeasured(first)));
  }

  @Test
  void aSameNameOnANewCardIsAnotherPress() {
    Script script = afterFirstCommand();
    jpeg(script, 1, clipping(script, 1, "A.DNG", 0.1), "A.JPG");
    script.at(1.3, new Input.ReleaseConfirmed(2));
    script.at(2, new Input.FrameMeasured(clipping(script, 2, "A.DNG", 1.1)));
    assertEquals(List.of("A.JPG", "A.DNG"), files(script));
    assertEquals(2, script.last(Event.FrameAccepted.class).shot());
  }

  @Test
  void aRawFileWhoseJpegWasLeftAloneIsJudgedByItself() {
    Script script = afterFirstCommand();
    FrameReading own =
        Readings.holding(
            "X.DNG",
            Readings.metadata(script.exposure(1).withIso(Iso.parse("800")), Script.time(300)));
    assertEquals(List.of("FrameStray"), jpeg(script, 1, own, "X.JPG"));
    assertEquals(List.of("FrameStray"), raw(script, 2, own, "X.JPG"));
    assertTrue(script.state().frames().isEmpty());
    assertFalse(script.state().isClosed());
  }

  /** A late frame ends it, the newest shot was refused, and a raw file is on its way. */
  @Test
  void isNotWokenForARefusalThatIsOver() {
    Script script = afterFirstCommand();
    script.at(10.3, new Input.ClockTicked());
    script.at(10.5, new Input.ReleaseRefused(2, "busy"));
    jpeg(script, 10.9, holding(script, 1, "A.DNG", 0.1), "A.JPG");
    assertEquals(Script.time(11.5), script.wake());
    assertEquals(List.of(), script.at(11.5, new Input.ClockTicked()));
    assertEquals(Script.time(20.9), script.wake());
  }

  @Test
  void isAskedToStopAtOnceInSpiteOfARawFileOnItsWay() {
    Script script = afterFirstCommand();
    jpeg(script, 1, holding(script, 1, "A.DNG", 0.1), "A.JPG");
    script.at(2, new Input.StopAsked());
    assertEquals(Stopped.ASKED, script.report().stopped());
  }
}
