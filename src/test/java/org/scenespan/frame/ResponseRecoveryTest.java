package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Response recovery from samples of a known camera. */
class ResponseRecoveryTest {
  private static final double[] STOPS = {-8, -7, -6, -5, -4, -3, -2, -1, 0};

  /** Codes of patches of light over ten stops, with rounding and a noise of half a code. */
  private static int[][] samples(DoubleUnaryOperator tone, int count, long seed) {
    Random random = new Random(seed);
    int[][] codes = new int[count][STOPS.length];
    for (int[] sample : codes) {
      double light = Math.pow(2, 10 * random.nextDouble() - 1);
      for (int j = 0; j < STOPS.length; j++) {
        double got = Math.min(1, light * Math.pow(2, STOPS[j]));
        double code = 255 * tone.applyAsDouble(got) + (got < 1 ? 0.5 * random.nextGaussian() : 0);
        sample[j] = (int) Math.max(0, Math.min(255, Math.round(code)));
      }
    }
    return codes;
  }

  private static DoubleUnaryOperator tone(String name) {
    return switch (name) {
      case "linear" -> light -> light;
      case "gamma 2.2" -> light -> Math.pow(light, 1 / 2.2);
      case "sRGB" -> ToneResponse::linearToSrgb;
      // An S over sRGB: darker shadows, a shoulder.
      default ->
          light -> {
            double v = ToneResponse.linearToSrgb(light);
            return 0.5 * v + 0.5 * v * v * (3 - 2 * v);
          };
    };
  }

  /** Recovered light of codes 16 to 240 within 0.05 stop of the camera's own curve, at code 128. */
  @ParameterizedTest
  @CsvSource({"sRGB, 0.05", "gamma 2.2, 0.05", "S, 0.05", "linear, 0.05"})
  void findsTheCurveOfAKnownCamera(String name, double stops) {
    DoubleUnaryOperator tone = tone(name);
    ResponseRecovery.Curve curve =
        new ResponseRecovery(0.3 * Math.sqrt(3000)).recover(samples(tone, 3000, 1), STOPS);
    double worst = 0;
    for (int code = 16; code <= 240; code++) {
      double truth = inverse(tone, code / 255.0) / inverse(tone, 128 / 255.0);
      double found = curve.light()[code] / curve.light()[128];
      worst = Math.max(worst, Math.abs(Math.log(found / truth) / Math.log(2)));
    }
    assertTrue(worst <= stops, name + " is off by " + worst + " stops");
    assertEquals(3000, curve.samples());
    assertTrue(curve.lowestCode() <= 16 && curve.highestCode() >= 250, curve.toString());
    assertTrue(curve.residualStops() < 0.1, "residual " + curve.residualStops());
  }

  private static double inverse(DoubleUnaryOperator tone, double value) {
    double low = 0;
    double high = 1;
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (tone.applyAsDouble(middle) < value) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  }

  @Test
  void neverDecreasesAndEndsAtClipping() {
    for (long seed = 1; seed <= 5; seed++) {
      Random random = new Random(seed);
      int[][] nonsense = new int[60][STOPS.length];
      for (int[] sample : nonsense) {
        for (int j = 0; j < sample.length; j++) {
          sample[j] = random.nextInt(256);
        }
      }
      double[] light = new ResponseRecovery(10).recover(nonsense, STOPS).light();
      assertEquals(1, ToneResponse.measured(light).linear(255));
    }
  }

  /** The paper's equation 4: the hat. */
  @ParameterizedTest
  @CsvSource({"0, 0", "1, 1", "127, 127", "128, 127", "254, 1", "255, 0"})
  void weighsCodesWithAHat(int code, double weight) {
    assertEquals(weight, ResponseRecovery.weight(code));
  }

  @Test
  void refusesWhatShowsNoResponse() {
    ResponseRecovery recovery = new ResponseRecovery(10);
    assertThrows(IllegalArgumentException.class, () -> recovery.recover(new int[0][2], STOPS));
    double[] one = {0};
    assertThrows(IllegalArgumentException.class, () -> recovery.recover(new int[1][1], one));
    assertThrows(IllegalArgumentException.class, () -> new ResponseRecovery(Double.NaN));
  }
}
