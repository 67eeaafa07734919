package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class EvTest {
  @ParameterizedTest
  @CsvSource({"13, 2, 15", "0, -0.3333, -0.3333", "-2.5, 2.5, 0"})
  void stopsAboveAndBelow(double ev, double stops, double above) {
    assertEquals(above, new Ev(ev).plus(new Stops(stops)).value(), 1e-12);
    assertEquals(ev, new Ev(above).minus(new Stops(stops)).value(), 1e-12);
    assertEquals(stops, new Ev(above).minus(new Ev(ev)).value(), 1e-12);
  }

  @Test
  void aBiggerEvIsAbove() {
    assertTrue(new Ev(13).isAbove(new Ev(12.9)));
    assertTrue(new Ev(-3).compareTo(new Ev(-2)) < 0);
    assertEquals("EV 13.0", new Ev(12.96).toString());
  }

  @ParameterizedTest
  @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY})
  void evIsFinite(double value) {
    assertThrows(IllegalArgumentException.class, () -> new Ev(value));
  }
}
