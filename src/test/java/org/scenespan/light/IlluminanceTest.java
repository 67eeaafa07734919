package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class IlluminanceTest {
  /** ISO 2720, C = 250. */
  @ParameterizedTest
  @CsvSource({"2.5, 0", "2560, 10", "20480, 13"})
  void givesTheEvByIncidentLight(double lux, double ev) {
    assertEquals(ev, new Illuminance(lux).ev().value(), 1e-9);
  }

  @ParameterizedTest
  @CsvSource({
    "27376, 27400 lx",
    "758.6, 759 lx",
    "45.36, 45.4 lx",
    "3.412, 3.41 lx",
    "0.00806, 0.00806 lx",
    "0.000645, 0.000645 lx"
  })
  void showsThreeDigits(double lux, String shown) {
    assertEquals(shown, new Illuminance(lux).toString());
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -1, Double.NaN, Double.POSITIVE_INFINITY})
  void refusesWhatIsNoLight(double lux) {
    assertThrows(IllegalArgumentException.class, () -> new Illuminance(lux));
  }
}
