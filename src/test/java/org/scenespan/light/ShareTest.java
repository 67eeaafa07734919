package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ShareTest {
  @ParameterizedTest
  @CsvSource({
    "0.0001, 0.0001",
    "0.01%, 0.0001",
    "100 %, 1",
    "0, 0",
    "1, 1",
    ".5, 0.5",
    "1e-4, 0.0001"
  })
  void parses(String text, double value) {
    assertEquals(value, Share.parse(text).value(), 1e-15);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "%", "-0.1", "1.1", "101%", "NaN", "a tenth"})
  void refuses(String text) {
    assertThrows(IllegalArgumentException.class, () -> Share.parse(text));
  }

  @ParameterizedTest
  @ValueSource(doubles = {-1e-9, 1.0001, Double.NaN})
  void isZeroToOne(double value) {
    assertThrows(IllegalArgumentException.class, () -> new Share(value));
  }

  @Test
  void aPartOfAWhole() {
    assertEquals(new Share(0.25), Share.of(1, 4));
    assertEquals(Share.NONE, Share.of(0, 0));
    assertThrows(IllegalArgumentException.class, () -> Share.of(2, 1));
    assertTrue(new Share(0.2).exceeds(new Share(0.1)));
    assertFalse(new Share(0.1).exceeds(new Share(0.1)));
  }
}
