package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class StopsTest {
  /** Reflectance against 18 % grey and neutral density OD as 10^OD [computed]. */
  @ParameterizedTest
  @CsvSource({
    "5.0, 2.32", // 90 % against 18 %
    "5.5556, 2.47", // 100 %
    "0.70556, -0.50", // 12.7 %
    "0.17222, -2.54", // 3.1 %
    "2, 1",
    "1, 0",
    "0.25, -2",
    "1.995262, 0.997", // OD 0.3
    "1000, 9.966" // OD 3.0
  })
  void aRatioOfLightInStops(double ratio, double stops) {
    assertEquals(stops, Stops.ofRatio(ratio).value(), 0.006);
    assertEquals(ratio, Stops.ofRatio(ratio).ratio(), ratio * 1e-12);
  }

  @ParameterizedTest
  @CsvSource({"1.26, +1.3", "0, +0.0", "-2, -2.0", "-0.3333, -0.3"})
  void readsLikeACompensationDial(double stops, String shown) {
    assertEquals(shown, new Stops(stops).toString());
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -1, Double.NaN})
  void noStopsOfNoRatio(double ratio) {
    assertThrows(IllegalArgumentException.class, () -> Stops.ofRatio(ratio));
  }

  @ParameterizedTest
  @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
  void stopsAreFinite(double value) {
    assertThrows(IllegalArgumentException.class, () -> new Stops(value));
  }

  @ParameterizedTest
  @CsvSource({"1, 2", "-3.5, 0.25", "0, 0"})
  void addsAndSubtracts(double one, double other) {
    Stops sum = new Stops(one).plus(new Stops(other));
    assertEquals(one + other, sum.value());
    assertEquals(one, sum.minus(new Stops(other)).value());
    assertEquals(-one, new Stops(one).negated().value());
    assertEquals(Math.abs(one), new Stops(one).abs().value());
  }
}
