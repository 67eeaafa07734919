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

class ApertureTest {
  static Stream<Aperture> thirds() {
    return Aperture.thirds().stream();
  }

  /** N = 2^(k/6) [computed]. */
  @ParameterizedTest
  @CsvSource({
    "f/1, 1",
    "f/1.4, 1.414213562",
    "f/2.8, 2.828427125",
    "5.6, 5.656854249",
    "F8, 8",
    "f/11, 11.313708499",
    "f/22, 22.627416998",
    "f/64, 64",
    "f/1.5, 1.5"
  })
  void parsesNominalAndExact(String text, double number) {
    assertEquals(number, Aperture.parse(text).number(), number * 1e-9);
  }

  @ParameterizedTest
  @MethodSource("thirds")
  void parseOfPrintedIsTheSame(Aperture step) {
    assertEquals(step, Aperture.parse(step.toString()));
  }

  /** f/11 and f/22 are named 0.081 stop too wide, f/1.2 0.141 too small in number [computed]. */
  @ParameterizedTest
  @CsvSource({"f/11, -0.081", "f/22, -0.081", "f/1.2, 0.141", "f/8, 0"})
  void theNameAgainstTheExactNumber(String text, double stops) {
    Aperture step = Aperture.parse(text);
    double off = 2 * Math.log(step.nominalNumber() / step.number()) / Math.log(2);
    assertEquals(Math.abs(stops), Math.abs(off), 0.0015);
  }

  @Test
  void theSeriesRisesByThirds() {
    List<Aperture> steps = Aperture.thirds();
    for (int i = 1; i < steps.size(); i++) {
      assertEquals(1.0 / 3, steps.get(i).av() - steps.get(i - 1).av(), 1e-9);
      assertTrue(steps.get(i).nominalNumber() > steps.get(i - 1).nominalNumber());
    }
  }

  /** Av = log2 N² (CIPA DC-008, Annex C). */
  @ParameterizedTest
  @CsvSource({"f/1, 0", "f/2, 2", "f/8, 6", "f/11, 7", "f/16, 8"})
  void av(String text, double av) {
    assertEquals(av, Aperture.parse(text).av(), 1e-9);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "f/", "f/0", "f/-8", "f/NaN", "1/125", "f/1000", "eight"})
  void refusesWhatIsNoAperture(String text) {
    assertThrows(IllegalArgumentException.class, () -> Aperture.parse(text));
  }
}
