package org.scenespan.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.SplittableRandom;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.RepetitionInfo;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What can be proven of a bracket whose start knows only the meter. Stops are counted in whole
 * units, a frame holds R of them, a scene has light in each from its dark end to its bright end.
 */
class ColdStartTest {
  private static int frames(int units, int reach) {
    return units <= 0 ? 0 : (units + reach - 1) / reach;
  }

  /**
   * After a frame that clips, how far the highlights go is not known. The best strategy against any
   * belief about it, found by dynamic programming over every next step, leaps that leave a hole
   * included, needs no fewer frames than the step of one reach, and that one as few as somebody who
   * knows: nothing that the frame could tell of what it clips would save a frame.
   */
  @RepeatedTest(50)
  void theStepOfOneReachIsAsGoodAsKnowing(RepetitionInfo repetition) {
    SplittableRandom random = new SplittableRandom(repetition.getCurrentRepetition());
    int reach = 1 + random.nextInt(12);
    int most = 40;
    // Chances of the bright end lying 1 to 40 units over the clip point, and what a frame weighs
    // there: one over the fewest, or anything else.
    double[] weight = random.doubles(most + 1).toArray();
    double[] least = new double[most + 1];
    for (int top = most - 1; top >= 0; top--) {
      least[top] = Double.POSITIVE_INFINITY;
      for (int next = top + 1; next <= Math.min(most, top + 3 * reach); next++) {
        double cost = next < most ? least[next] : 0;
        int hole = next - reach - top;
        for (int high = top + 1; high <= most; high++) {
          cost += weight[high] * (1 + frames(Math.min(hole, high - top), reach));
        }
        least[top] = Math.min(least[top], cost);
      }
    }
    double known = 0;
    for (int high = 1; high <= most; high++) {
      known += weight[high] * frames(high, reach);
    }
    assertEquals(known, least[0], 1e-9);
  }

  /**
   * Whatever the offset, and however many frames a scene needs, there is one that needs one more of
   * whoever starts there; and none that needs two more. So one frame over the fewest is the least
   * that any rule can promise, and it is what the plan promises.
   */
  @ParameterizedTest
  @ValueSource(ints = {2, 5, 7, 12})
  void oneFrameOverTheFewestIsTheBestPromise(int reach) {
    for (int offset = 0; offset <= 3 * reach; offset++) {
      for (int fewest = 1; fewest <= 4; fewest++) {
        int worst = 0;
        for (int high = 0; high <= 6 * reach; high++) {
          for (int low = 0; low <= 6 * reach; low++) {
            if (frames(high + low, reach) == fewest) {
              // Over a scene that lies under the first frame as a whole, the next one leaps.
              int under = Math.min(offset - reach, high) + low;
              int taken = 1 + frames(high - offset, reach) + frames(under, reach);
              worst = Math.max(worst, taken - fewest);
            }
          }
        }
        assertEquals(1, worst, "offset " + offset + ", fewest " + fewest);
      }
    }
  }

  /**
   * Where a scene's span stands against the first frame is as likely at every phase of a reach, if
   * nothing is known of it: the frame too many is then paid with a chance of 1 less the slack over
   * the reach, whatever the rule.
   */
  @ParameterizedTest
  @ValueSource(ints = {3, 6, 10})
  void withoutAPriorTheSlackDecides(int reach) {
    for (int span = 1; span <= 5 * reach; span++) {
      int fewest = frames(span, reach);
      int slack = fewest * reach - span;
      int more = 0;
      // The first frame's top this many units under the scene's: one reach of phases, as good as
      // any other.
      for (int under = -slack; under < reach - slack; under++) {
        more += 1 + frames(under, reach) + frames(span - under - reach, reach) - fewest;
      }
      assertEquals(reach - slack - 1, more, "span " + span);
    }
  }

  /** Overlap and the trade against time cost the plan little of what its prior allows. */
  @ParameterizedTest
  @ValueSource(doubles = {10, 20, 40})
  void comesNearTheLeastThatThePriorAllows(double snr) {
    ColdStart start = new ColdStart(snr, -1);
    assertTrue(start.leastExpected() <= start.expected());
    assertTrue(start.expected() <= start.leastExpected() + 0.03, "" + start.expected());
  }

  /** No single scene of those that were measured moves the start by more than two clicks. */
  @ParameterizedTest
  @ValueSource(doubles = {10, 20, 40})
  void noMeasuredSceneDecidesAlone(double snr) {
    double all = new ColdStart(snr, -1).offset();
    for (int i = 0; i < ColdStart.MEASURED; i++) {
      assertEquals(all, new ColdStart(snr, i).offset(), 0.67, "without " + i);
    }
  }
}
