package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class ShutterLadderTest {
  private static final ShutterLadder THIRDS =
      ShutterLadder.thirds(Shutter.parse("1/4000"), Shutter.parse("30s"));

  /** A device that times by itself in steps of a millisecond. */
  private static final ShutterLadder TIMER =
      new ShutterLadder(new Shutter(0.01), new Shutter(600), 0.001);

  @ParameterizedTest
  @CsvSource({
    "0.0078125, DARKER, 1/125", "0.0078125, BRIGHTER, 1/125", "0.0078125, NEAREST, 1/125",
    "0.009, DARKER, 1/125", "0.009, BRIGHTER, 1/100", "0.0085, NEAREST, 1/125",
    "0.0090, NEAREST, 1/100", "1000, NEAREST, 30s", "1000, BRIGHTER, 30s",
    "0.00001, DARKER, 1/4000", "0.00001, BRIGHTER, 1/4000"
  })
  void theThirdThatStandsForATime(double seconds, Rounding rounding, String expected) {
    assertEquals(Shutter.parse(expected), THIRDS.at(seconds, rounding));
  }

  @ParameterizedTest
  @CsvSource({
    "0.0123, DARKER, 0.012", "0.0123, BRIGHTER, 0.013", "0.0123, NEAREST, 0.012",
    "0.001, NEAREST, 0.01", "3600, NEAREST, 600", "1.0, BRIGHTER, 1.0"
  })
  void theMultipleThatStandsForATime(double seconds, Rounding rounding, double expected) {
    assertEquals(expected, TIMER.at(seconds, rounding).seconds(), 1e-9);
  }

  @ParameterizedTest
  @EnumSource(Rounding.class)
  void isMonotoneAndRoundsTheRightWay(Rounding rounding) {
    Random random = new Random(7);
    for (ShutterLadder ladder : new ShutterLadder[] {THIRDS, TIMER}) {
      for (int i = 0; i < 2000; i++) {
        double seconds = Math.pow(2, random.nextDouble() * 24 - 14);
        Shutter at = ladder.at(seconds, rounding);
        Shutter longer = ladder.at(seconds * (1 + random.nextDouble()), rounding);
        assertTrue(at.compareTo(longer) <= 0, () -> at + " above " + longer);
        boolean inside = seconds >= ladder.first().seconds() && seconds <= ladder.last().seconds();
        if (inside && rounding == Rounding.DARKER) {
          assertTrue(at.seconds() <= seconds * (1 + 2e-6));
        }
        if (inside && rounding == Rounding.BRIGHTER) {
          assertTrue(at.seconds() >= seconds * (1 - 2e-6));
        }
        assertEquals(at, ladder.at(at.seconds(), rounding), "a step stands for itself");
      }
    }
  }

  @ParameterizedTest
  @ValueSource(doubles = {-0.001, Double.NaN, 600})
  void refusesAResolutionOutOfRange(double step) {
    assertThrows(
        IllegalArgumentException.class,
        () -> new ShutterLadder(new Shutter(0.01), new Shutter(600), step));
  }

  @ParameterizedTest
  @CsvSource({"2, 1", "0.0083, 0.0095"})
  void refusesAnEmptyLadder(double shortest, double longest) {
    assertThrows(
        IllegalArgumentException.class,
        () -> ShutterLadder.thirds(new Shutter(shortest), new Shutter(longest)));
  }
}
