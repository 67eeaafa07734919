package org.scenespan.session;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.FrameChange;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.BracketPlan;
import org.scenespan.plan.Decision;
import org.scenespan.plan.Evidence;
import org.scenespan.plan.Intent;
import org.scenespan.plan.Known;
import org.scenespan.proof.Exposures;

class FramePairsTest {
  private static final String[] SHUTTERS = {"1/125", "1/60", "1/250", "1/30", "1/500", "1/125"};

  /** A frame whose light is off by some stops against the one before, beyond its exposure. */
  private static Event.FrameAccepted frame(
      int index, double off, double moved, String colour, boolean compared) {
    Exposure exposure = Exposures.of(SHUTTERS[index]);
    List<FrameChange> changes = new ArrayList<>();
    if (index > 0 && compared) {
      Exposure before = Exposures.of(SHUTTERS[index - 1]);
      changes.add(
          new FrameChange(
              (index - 1) + ".DNG",
              new Share(0.5),
              new Share(moved),
              new Stops(before.ev().minus(exposure.ev()).value() + off),
              moved > 0
                  ? Optional.of(new FrameChange.Levels(new Stops(-4), new Stops(-2)))
                  : Optional.empty()));
    }
    FrameReading plain = Readings.holding(index + ".DNG", Readings.withoutTime(exposure));
    FrameReading reading =
        new FrameReading(
            plain.file(),
            plain.format(),
            plain.metadata(),
            plain.measure(),
            Optional.empty(),
            Optional.empty(),
            colour,
            List.of(),
            Optional.empty(),
            changes);
    return new Event.FrameAccepted(
        index + 1,
        Match.Proof.EXPOSURE,
        false,
        exposure,
        reading,
        new Ev(5),
        new Ev(14),
        Share.NONE,
        Share.NONE,
        Optional.empty());
  }

  private static FramePairs pairs(double... off) {
    List<Event.FrameAccepted> frames = new ArrayList<>();
    for (int i = 0; i < off.length; i++) {
      frames.add(frame(i, off[i], 0, "sensor", true));
    }
    return new FramePairs(frames);
  }

  /**
   * Shutters that are off by 0.1 stop this way and that make differences of 0.2 that cancel in the
   * sum; light that grows by 0.1 stop a frame stays in it.
   */
  @Test
  void tellsLightFromShutters() {
    assertEquals(Optional.empty(), pairs(0, 0.2, -0.2, 0.2, -0.2, 0.2).drift());
    assertEquals(Optional.empty(), pairs(0, 0.1, 0.1).drift());
    assertEquals(0.3, pairs(0, 0.1, 0.1, 0.1).drift().orElseThrow().value(), 1e-9);
    assertEquals(-0.4, pairs(0, -0.3, -0.1).drift().orElseThrow().value(), 1e-9);
    assertEquals(Optional.empty(), pairs().drift());
  }

  /** It is told when it passes what shutters explain, and again when it has grown. */
  @ParameterizedTest
  @CsvSource({"0.2, false", "0.3, true"})
  void tellsAChangeOnce(double second, boolean told) {
    assertEquals(told, pairs(0, second).driftToTell(pairs(0)).isPresent());
    assertEquals(Optional.empty(), pairs(0, 0.3, 0.05).driftToTell(pairs(0, 0.3)));
    assertTrue(pairs(0, 0.3, 0.2).driftToTell(pairs(0, 0.3)).isPresent());
  }

  /** Frames taken before the light grew by 0.6 stop hold what is now 0.6 stop higher. */
  @Test
  void countsEarlierFramesInTheLightOfNow() {
    List<Evidence> steady = pairs(0, 0.1, 0.1).evidence();
    List<Evidence> grown = pairs(0, 0.2, 0.4).evidence();
    double[] since = {0.6, 0.4, 0};
    for (int i = 0; i < 3; i++) {
      assertEquals(Exposures.of(SHUTTERS[i]).ev(), steady.get(i).ev());
      assertEquals(steady.get(i).ev().value() + since[i], grown.get(i).ev().value(), 1e-9);
      assertEquals(
          steady.get(i).reach(NoiseModel.TYPICAL, 10).low().value() + since[i],
          grown.get(i).reach(NoiseModel.TYPICAL, 10).low().value(),
          1e-9);
    }
  }

  /** A frame without a comparison stands in the light of the one before it. */
  @Test
  void carriesTheLightOnWhereNothingWasCompared() {
    FramePairs pairs =
        new FramePairs(
            List.of(
                frame(0, 0, 0, "sensor", true),
                frame(1, 0.5, 0, "sensor", true),
                frame(2, 9, 0, "sensor", false)));
    assertEquals(0.5, pairs.drift().orElseThrow().value(), 1e-9);
  }

  private static Decision afterMovement(double moved) {
    BracketGoal goal =
        BracketGoal.USUAL.withIntent(
            new Intent(
                Intent.Keep.BOTH, Share.NONE, Optional.empty(), 1, Intent.Order.PLANNED, true));
    BracketPlan plan =
        new BracketPlan(goal, Script.setup(Optional.empty()).latitude(), NoiseModel.TYPICAL);
    FramePairs pairs =
        new FramePairs(List.of(frame(0, 0, 0, "sensor", true), frame(1, 0, moved, "sensor", true)));
    return plan.next(pairs.evidence(), Optional.empty(), Known.NOTHING);
  }

  /** The extra frame is told with where what moved lies: 4 to 2 stops under 1/60's saturation. */
  @Test
  void anExtraFrameIsForWhatMoved() {
    Decision.Expose extra = (Decision.Expose) afterMovement(0.02);
    double saturation = Exposures.of("1/60").ev().value() + 2.977;
    assertTrue(
        extra.why().contains(new Ev(saturation - 4) + " to " + new Ev(saturation - 2)),
        extra.why());
    Decision.Expose still = (Decision.Expose) afterMovement(0);
    assertTrue(still.why().contains("holds the most of it"), still.why());
  }
}
