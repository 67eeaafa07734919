package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class IsoTest {
  static Stream<Iso> thirds() {
    return Iso.thirds(new Iso(25), new Iso(409_600)).stream();
  }

  /** S = 100 · 2^(k/3) [computed]. */
  @ParameterizedTest
  @CsvSource({
    "100, 100",
    "125, 125.99210499",
    "ISO 400, 400",
    "iso800, 800",
    "3200, 3200",
    "255, 255"
  })
  void parsesNominalAndExact(String text, double speed) {
    assertEquals(speed, Iso.parse(text).speed(), speed * 1e-9);
  }

  @ParameterizedTest
  @MethodSource("thirds")
  void parseOfPrintedIsTheSame(Iso step) {
    assertEquals(step, Iso.parse(step.toString()));
  }

  /** Off by at most 0.023 stop [computed]. */
  @ParameterizedTest
  @MethodSource("thirds")
  void theNameIsNearTheExactSpeed(Iso step) {
    double off = Math.abs(Math.log(step.nominalSpeed() / step.speed()) / Math.log(2));
    assertTrue(off <= 0.0232, step + " is off by " + off);
  }

  @Test
  void theSeriesRisesByThirds() {
    List<Iso> steps = thirds().toList();
    assertEquals(43, steps.size());
    for (int i = 1; i < steps.size(); i++) {
      assertEquals(1.0 / 3, steps.get(i).sv() - steps.get(i - 1).sv(), 1e-9);
    }
  }

  /** Sv = log2(S / 3.125), so ISO 100 gives 5 (CIPA DC-008, Annex C). */
  @ParameterizedTest
  @CsvSource({"100, 5", "200, 6", "50, 4", "3200, 10"})
  void sv(double speed, double sv) {
    assertEquals(sv, new Iso(speed).sv(), 1e-12);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "0", "-100", "ISO", "auto", "NaN", "100000000"})
  void refusesWhatIsNoIso(String text) {
    assertThrows(IllegalArgumentException.class, () -> Iso.parse(text));
  }
}
