package org.scenespan.plan.ramp;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.scenespan.light.Stops;

class EveningTest {
  @Test
  void leavesAStraightLineAlone() {
    double[] seconds = new double[100];
    double[] values = new double[100];
    for (int i = 0; i < 100; i++) {
      seconds[i] = 5 * i + (i % 3);
      values[i] = 0.25 + 0.01 * seconds[i];
    }
    assertEquals(0, Evening.smoothness(seconds, values).largest().value(), 1e-9);
  }

  /** A lone spike keeps 1 − w(0)/Σw of itself: Σw of the tricube over 25 is 14.58 [computed]. */
  @Test
  void seesALoneSpike() {
    double[] seconds = new double[101];
    double[] values = new double[101];
    for (int i = 0; i < 101; i++) {
      seconds[i] = 5 * i;
    }
    values[50] = 0.1;
    double weights = 0;
    for (int k = -12; k <= 12; k++) {
      weights += Math.pow(1 - Math.pow(Math.abs(k) / 12.0, 3), 3);
    }
    double expected = 0.1 * (1 - 1 / weights);
    assertEquals(expected, Evening.smoothness(seconds, values).largest().value(), 1e-6);
  }

  @Test
  void gainsTakeAwayStepsAndFlicker() {
    Random random = new Random(1);
    List<Evening.Frame> frames = new ArrayList<>();
    for (int i = 0; i < 300; i++) {
      double wish = -2 + i * 0.005;
      double brightness = wish + (i % 20) / 60.0 - 1.0 / 6 + random.nextGaussian() * 0.05;
      Optional<Stops> read = i % 17 == 5 ? Optional.empty() : Optional.of(new Stops(brightness));
      frames.add(new Evening.Frame(10 * i, read, new Stops(wish)));
    }
    Evening evening = Evening.of(frames);
    assertTrue(evening.before().sigma().value() > 0.05, "it flickers before");
    assertTrue(evening.evened().sigma().value() < 0.001, "σ " + evening.evened().sigma().value());
    assertEquals(Optional.empty(), evening.gains().get(5));
    double evened = frames.get(6).brightness().get().plus(evening.gains().get(6).get()).value();
    assertEquals(frames.get(6).wish().value(), evened, 0.001);
  }
}
