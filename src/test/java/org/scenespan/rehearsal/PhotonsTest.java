package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class PhotonsTest {
  private static final int DRAWS = 200_000;

  /**
   * Mean λ, variance λ, third central moment λ [computed], each within five deviations of its
   * estimate.
   */
  @ParameterizedTest
  @ValueSource(doubles = {0.02, 0.3, 1, 5, 9.99, 10, 30, 120, 199.9})
  void countsFollowPoissonsLaw(double mean) {
    SplittableRandom random = new SplittableRandom(7);
    double sum = 0;
    double squares = 0;
    double cubes = 0;
    for (int i = 0; i < DRAWS; i++) {
      double d = Photons.count(mean, random) - mean;
      sum += d;
      squares += d * d;
      cubes += d * d * d;
    }
    double deviation = Math.sqrt(mean / DRAWS);
    assertEquals(0, sum / DRAWS, 5 * deviation, "mean");
    assertEquals(
        mean, squares / DRAWS, 5 * Math.sqrt((mean + 2 * mean * mean) / DRAWS), "variance");
    // Var(d³) = μ6 − μ3² with μ6 = 15λ³ + 25λ² + λ.
    double cubic = Math.sqrt((15 * mean * mean * mean + 24 * mean * mean + mean) / DRAWS);
    assertEquals(mean, cubes / DRAWS, 5 * cubic, "third moment");
  }

  /** P(k) = λ^k e^−λ / k!, for counts around the mean, on both sides of the change of method. */
  @ParameterizedTest
  @ValueSource(doubles = {0.5, 9, 11, 40})
  void eachCountIsAsFrequentAsItShouldBe(double mean) {
    SplittableRandom random = new SplittableRandom(11);
    int[] seen = new int[400];
    for (int i = 0; i < DRAWS; i++) {
      seen[Photons.count(mean, random)]++;
    }
    double expected = Math.exp(-mean);
    for (int k = 0; k < 80; k++) {
      double tolerance = 5 * Math.sqrt(expected / DRAWS) + 1.0 / DRAWS;
      assertEquals(expected, (double) seen[k] / DRAWS, tolerance, "count " + k);
      expected *= mean / (k + 1);
    }
  }

  @Test
  void noLightIsNoCount() {
    assertEquals(0, Photons.count(0, new SplittableRandom(1)));
  }
}
