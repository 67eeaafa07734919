package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.scenespan.frame.Detail;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Stops;

/** When a lapse's alarms are raised, when they end, and when they stay silent. */
class LapseAlarmsTest {
  private static final double MID_GREY = -2.977;
  private static final Steadiness.Shift STILL = Steadiness.Shift.NONE;
  private static final Steadiness.Shift BUMP = new Steadiness.Shift(0.02, -0.01);

  private final LapseScript script = LapseScript.greeted(200);
  private final Random chance = new Random(1);
  private int shot;

  private void frame(Steadiness steadiness) {
    frame(steadiness, 0, Optional.empty());
  }

  /** The next shot's frame, so many stops off, taken with another ISO if any. */
  private void frame(Steadiness steadiness, double off, Optional<Iso> other) {
    shot++;
    script.confirmed(shot);
    Exposure told = script.state().lapse().shot(shot).orElseThrow().exposure();
    FrameReading plain = script.taken(shot);
    FrameReading reading =
        Readings.holding(
            "F" + shot,
            other
                .map(
                    iso ->
                        Readings.metadata(
                            told.withIso(iso),
                            LapseScript.time(LapseScript.due(shot) + 0.06 + 3600)))
                .orElse(plain.metadata()));
    script.at(
        LapseScript.due(shot) + 1,
        new Input.FrameMeasured(
            reading, Optional.empty(), Optional.of(new Stops(MID_GREY + off)), steadiness));
  }

  private void frames(int count, Steadiness steadiness) {
    for (int i = 0; i < count; i++) {
      frame(steadiness);
    }
  }

  private static Steadiness shift(Steadiness.Shift shift) {
    return new Steadiness(Optional.empty(), Optional.of(shift));
  }

  private Steadiness detail(double fine, double coarse) {
    double scatter = 0.1 * chance.nextGaussian();
    return new Steadiness(
        Optional.of(new Detail(fine + scatter, coarse + 0.1 * chance.nextGaussian())),
        Optional.empty());
  }

  /**
   * Alarms in the order in which they came: {@code +kind} raised, {@code -kind} ended; without that
   * of frames that do not come, which have no part in it.
   */
  private List<String> alarms() {
    List<String> told = new ArrayList<>();
    for (Event event : script.events()) {
      if (event instanceof Event.AlarmRaised raised) {
        told.add("+" + raised.kind());
      } else if (event instanceof Event.AlarmEnded ended) {
        told.add("-" + ended.kind());
      }
    }
    told.removeIf(each -> each.endsWith(LapseCourse.BLIND));
    return told;
  }

  private Event.AlarmRaised raised() {
    return script.events().stream()
        .filter(Event.AlarmRaised.class::isInstance)
        .map(Event.AlarmRaised.class::cast)
        .filter(it -> !it.kind().equals(LapseCourse.BLIND))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void aBumpIsToldWithWhereAndSinceWhen() {
    frames(6, shift(STILL));
    frame(shift(BUMP));
    assertEquals(List.of(), alarms(), "one frame alone may be a gust");
    frame(shift(STILL));
    assertEquals(List.of("+shifted"), alarms());
    assertTrue(raised().words().contains("2.0 % of its width and 1.0 % of its height at F7"));
    assertEquals(LapseScript.time(LapseScript.due(7)), raised().since().orElseThrow());
    frames(12, shift(STILL));
    assertEquals(List.of("+shifted", "-shifted"), alarms());
  }

  /** Clouds that fill the picture move from the first frame to the last. */
  @Test
  void whatGoesOnAndOnIsNoBump() {
    frames(30, shift(new Steadiness.Shift(0.01, 0)));
    assertEquals(List.of(), alarms());
  }

  @Test
  void afterFramesThatTellNothingAMoveIsNoBump() {
    frames(6, Steadiness.UNKNOWN);
    frame(shift(BUMP));
    frames(3, shift(STILL));
    assertEquals(List.of(), alarms());
  }

  @Test
  void dewIsToldAndItsEnd() {
    for (int i = 0; i < 40; i++) {
      frame(detail(-4, -1));
    }
    for (int i = 0; i < 40; i++) {
      frame(detail(-4 - 0.1 * i, -1 - 0.02 * i));
    }
    assertEquals(List.of("+soft"), alarms());
    for (int i = 0; i < 20; i++) {
      frame(detail(-4, -1));
    }
    assertEquals(List.of("+soft", "-soft"), alarms());
  }

  /** Haze, a cloud before the sun, a dull dawn: coarse and fine detail go together. */
  @Test
  void flatLightIsNoDew() {
    for (int i = 0; i < 100; i++) {
      double flat = 3 * Math.sin(i / 15.0);
      frame(detail(-4 + flat, -1 + flat));
    }
    assertEquals(List.of(), alarms());
  }

  /** Noise that goes with the ISO takes no contrast from block to block, nor half of the fine. */
  @Test
  void aFewSoftFramesAreNoDew() {
    for (int i = 0; i < 100; i++) {
      boolean mist = i % 25 > 20;
      frame(detail(mist ? -8 : -4, -1));
    }
    assertEquals(List.of(), alarms());
  }

  @Test
  void anIsoThatIsNotTheCommandedOneIsToldAtTheThirdFrame() {
    frames(3, Steadiness.UNKNOWN);
    Optional<Iso> other = Optional.of(Iso.parse("1600"));
    frame(Steadiness.UNKNOWN, 0, other);
    frame(Steadiness.UNKNOWN, 0, other);
    assertEquals(List.of(), alarms());
    frame(Steadiness.UNKNOWN, 0, other);
    assertEquals(List.of("+disobeyed"), alarms());
    assertTrue(raised().words().contains("the newest with ISO 1600"), raised().words());
    frames(4, Steadiness.UNKNOWN);
    assertEquals(List.of("+disobeyed", "-disobeyed"), alarms());
  }

  @Test
  void anIsoThatJumpsOnceIsNotTold() {
    for (int i = 0; i < 12; i++) {
      frame(Steadiness.UNKNOWN, 0, i % 4 == 3 ? Optional.of(Iso.parse("1600")) : Optional.empty());
    }
    assertEquals(List.of(), alarms());
  }

  @Test
  void picturesThatAreFarTooBrightForLongAreTold() {
    for (int i = 0; i < 10; i++) {
      frame(Steadiness.UNKNOWN, 2.5, Optional.empty());
    }
    assertTrue(alarms().contains("+disobeyed"), alarms().toString());
  }

  @Test
  void aCloudIsNotTold() {
    for (int i = 0; i < 40; i++) {
      frame(Steadiness.UNKNOWN, i % 10 < 4 ? -2.3 : 0.2, Optional.empty());
    }
    assertEquals(List.of(), alarms());
  }

  @Test
  void roomThatDoesNotLastIsToldOnceAndItsEnd() {
    frames(1, Steadiness.UNKNOWN);
    long frame = 25_000_000;
    script.at(12, new Input.SpaceSeen(250 * frame, frame));
    assertEquals(List.of(), alarms());
    script.at(13, new Input.SpaceSeen(100 * frame, frame));
    script.at(14, new Input.SpaceSeen(205 * frame, frame));
    script.at(15, new Input.SpaceSeen(100 * frame, frame));
    assertEquals(List.of("+space"), alarms(), "it does not flap");
    assertTrue(raised().words().contains("25.0 MB a frame leave room for 100 of the 19"));
    script.at(16, new Input.SpaceSeen(300 * frame, frame));
    assertEquals(List.of("+space", "-space"), alarms());
  }

  @Test
  void aBatteryThatFallsTooFastIsTold() {
    battery("V", 7.4, 0.06);
    assertEquals(List.of("+battery"), alarms());
    assertTrue(raised().words().contains("will be empty in about"), raised().words());
  }

  @Test
  void aBatteryThatLastsIsNot() {
    battery("V", 7.4, 0.002);
    assertEquals(List.of(), alarms());
  }

  @Test
  void aChargeInPercentIsJudgedByWhatIsLeft() {
    battery("%", 96, 0.5);
    assertEquals(List.of(), alarms(), "enough for three hours");
  }

  @Test
  void aChargeThatGoesBeforeTheEndIsTold() {
    battery("%", 60, 2.5);
    assertEquals(List.of("+battery"), alarms());
  }

  @Test
  void aTemperatureIsNoBattery() {
    for (int minute = 0; minute < 20; minute++) {
      script.at(60 * minute + 1, new Input.TriggerNoticed("temperature", 20 - minute + " C"));
    }
    assertEquals(List.of(), alarms());
  }

  /** A word a minute; the lapse lasts for 33 minutes. */
  private void battery(String unit, double first, double fall) {
    frames(1, Steadiness.UNKNOWN);
    for (int minute = 1; minute < 20; minute++) {
      String text = String.format(java.util.Locale.ROOT, "%.3f %s", first - fall * minute, unit);
      script.at(60 * minute, new Input.TriggerNoticed("battery", text));
    }
  }
}
