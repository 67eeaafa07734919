package org.scenespan.plan.ramp;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.light.Ev;

class WishTest {
  /** By hand: slopes 0 at the ends; at EV 0 (20 + 16) / (20 · 4 + 16 · 8) = 9/52. */
  @ParameterizedTest
  @CsvSource({
    "-9, -2",
    "-4, -2",
    "-2, -1.58653846",
    "0, -1",
    "4, -0.32692308",
    "8, 0",
    "15, 0",
  })
  void runsThroughItsPointsWithoutKinks(double scene, double picture) {
    Wish wish = Wish.parse(List.of("0:-1", "-4:-2", "8:0"));
    assertEquals(picture, wish.at(new Ev(scene)).value(), 1e-6);
  }

  @Test
  void brighterScenesAreNeverExposedLongerOrShownDarker() {
    Wish wish = Wish.usual();
    for (double ev = -12; ev < 18; ev += 0.05) {
      Ev lower = new Ev(ev);
      Ev higher = new Ev(ev + 0.05);
      assertTrue(wish.exposure(higher).isAbove(wish.exposure(lower)), () -> "exposure at " + lower);
      assertTrue(wish.at(higher).value() >= wish.at(lower).value() - 1e-12, () -> "at " + lower);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "3", "3:", "a:b", "1:2:3", "0:9", "NaN:0", "1e400:0"})
  void refusesWhatIsNoPoint(String written) {
    assertThrows(IllegalArgumentException.class, () -> Wish.parse(List.of(written)));
  }

  @Test
  void refusesPointsThatContradict() {
    assertThrows(IllegalArgumentException.class, () -> Wish.parse(List.of("1:0", "1:-1")));
    assertThrows(IllegalArgumentException.class, () -> Wish.parse(List.of("1:0", "2:-1")));
    assertThrows(IllegalArgumentException.class, () -> Wish.parse(List.of()));
  }
}
