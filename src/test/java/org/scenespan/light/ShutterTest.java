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

class ShutterTest {
  static Stream<Shutter> thirds() {
    return Shutter.thirds(Shutter.ofThird(-45), Shutter.ofThird(24)).stream();
  }

  /** Third-stop series t = 2^(k/3) and the engraved names [practice]. */
  @ParameterizedTest
  @CsvSource({
    "1/125, 0.0078125",
    "1/125s, 0.0078125",
    "1/1000, 0.0009765625",
    "1/8000, 0.0001220703125",
    "1/60, 0.015625",
    "1/100, 0.00984313320",
    "0.8s, 0.79370052598",
    "30s, 32",
    "30, 32",
    "15s, 16",
    "1s, 1",
    "1.3, 1.25992104989",
    "2m, 128",
    "1/3.2, 0.3125",
    "500ms, 0.5",
    "0.0078125, 0.0078125",
    "32s, 32"
  })
  void parsesNominalAndExact(String text, double seconds) {
    assertEquals(seconds, Shutter.parse(text).seconds(), seconds * 1e-9);
  }

  @ParameterizedTest
  @MethodSource("thirds")
  void parseOfPrintedIsTheSame(Shutter step) {
    assertEquals(step, Shutter.parse(step.toString()), step::toString);
  }

  /** Off by at most 0.093 stop: 30 s is 32 [computed]. */
  @ParameterizedTest
  @MethodSource("thirds")
  void theNameIsNearTheExactTime(Shutter step) {
    double off = Math.abs(Math.log(step.nominalSeconds() / step.seconds()) / Math.log(2));
    assertTrue(off <= 0.0932, step + " is off by " + off);
  }

  @Test
  void theSeriesRisesByThirds() {
    List<Shutter> steps = thirds().toList();
    assertEquals(70, steps.size());
    for (int i = 1; i < steps.size(); i++) {
      assertEquals(-1.0 / 3, steps.get(i).tv() - steps.get(i - 1).tv(), 1e-9);
      assertTrue(steps.get(i).nominalSeconds() > steps.get(i - 1).nominalSeconds());
      assertEquals(i - 45, steps.get(i).third().orElseThrow());
    }
  }

  /** Tv = −log2 t (CIPA DC-008, Annex C). */
  @ParameterizedTest
  @CsvSource({"1/125, 7", "1s, 0", "30s, -5", "1/4, 2", "1/8000, 13"})
  void tv(String text, double tv) {
    assertEquals(tv, Shutter.parse(text).tv(), 1e-9);
  }

  @ParameterizedTest
  @CsvSource({
    "1/125, 1/125 s",
    "0.8s, 0.8 s",
    "30s, 30 s",
    "1/4, 1/4 s",
    "0.3, 0.3 s",
    "7s, 7 s",
    "0.0123, 0.0123 s",
    "1/90, 1/90 s"
  })
  void prints(String text, String printed) {
    assertEquals(printed, Shutter.parse(text).toString());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"", "s", "0", "-1", "1/0", "1/", "/125", "1/2/3", "NaN", "1e9", "f/8", "0x1p3"})
  void refusesWhatIsNoTime(String text) {
    IllegalArgumentException error =
        assertThrows(IllegalArgumentException.class, () -> Shutter.parse(text));
    assertTrue(error.getMessage().contains("1/125"), error.getMessage());
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -1, Double.NaN, 86_401, Double.POSITIVE_INFINITY})
  void refusesTimesOutOfRange(double seconds) {
    assertThrows(IllegalArgumentException.class, () -> new Shutter(seconds));
  }
}
