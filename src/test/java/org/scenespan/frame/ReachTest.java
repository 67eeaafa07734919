package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.Ev;

class ReachTest {
  @ParameterizedTest
  @CsvSource({"7, true", "16, true", "12.3, true", "6.99, false", "16.01, false"})
  void holdsWhatLiesBetweenItsEnds(double ev, boolean held) {
    assertEquals(held, new Reach(new Ev(7), new Ev(16)).holds(new Ev(ev)));
  }

  @Test
  void itsWidthIsTheDistanceOfItsEnds() {
    assertEquals(9, new Reach(new Ev(7), new Ev(16)).width().value());
    assertThrows(IllegalArgumentException.class, () -> new Reach(new Ev(16), new Ev(7)));
  }
}
