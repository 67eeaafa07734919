package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ToneResponseTest {
  /** IEC 61966-2-1; the codes [computed]. */
  @ParameterizedTest
  @CsvSource({"0.18, 117.65", "0.127, 99.8", "0.5, 187.5", "0.9, 243.4", "0, 0", "1, 255"})
  void encoded(double linear, double code) {
    assertEquals(code, 255 * ToneResponse.linearToSrgb(linear), 0.05);
    assertEquals(linear, ToneResponse.srgbToLinear(ToneResponse.linearToSrgb(linear)), 1e-7);
  }

  @Test
  void eighteenPercentInSrgb() {
    assertEquals(0.461356, ToneResponse.linearToSrgb(0.18), 5e-7);
  }

  /** Code 10 lies 8.4 stops below white with 0.14-stop steps, code 1 11.7 below [computed]. */
  @ParameterizedTest
  @CsvSource({"10, -8.4", "1, -11.7", "255, 0"})
  void stopsOfACode(int code, double stops) {
    assertEquals(stops, Math.log(ToneResponse.srgb(8).linear(code)) / Math.log(2), 0.05);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 8, 12, 16})
  void risesFromBlackToSaturation(int bits) {
    ToneResponse response = ToneResponse.srgb(bits);
    assertEquals(1 << bits, response.codes());
    assertEquals(0, response.linear(0));
    assertEquals(1, response.linear(response.codes() - 1));
    for (int code = 1; code < response.codes(); code++) {
      assertTrue(response.linear(code) > response.linear(code - 1));
    }
  }

  @ParameterizedTest
  @CsvSource({"0, 0", "512, 0", "513, 6.3004e-5", "8447.5, 0.5", "16383, 1"})
  void rawIsLinearFromBlackToWhite(double code, double linear) {
    ToneResponse response = ToneResponse.raw(14, 512, 16383);
    double low = response.linear((int) Math.floor(code));
    double high = response.linear((int) Math.ceil(code));
    assertEquals(linear, (low + high) / 2, 1e-8);
  }

  @ParameterizedTest
  @CsvSource({"14, 512, 512", "14, -1, 100", "14, NaN, 100", "17, 0, 100", "0, 0, 1"})
  void refusesLevelsThatAreNone(int bits, double black, double white) {
    assertThrows(IllegalArgumentException.class, () -> ToneResponse.raw(bits, black, white));
  }
}
