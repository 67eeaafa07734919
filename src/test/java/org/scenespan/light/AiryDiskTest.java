package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AiryDiskTest {
  /**
   * 2.44 λ N at 0.55 µm [computed], N the exact f-number, after Born and Wolf, Principles of
   * Optics, 8.5.2: the first zero of J1(x)/x lies at x = 1.220 π.
   */
  @ParameterizedTest
  @CsvSource({"f/8, 10.74", "f/11, 15.18", "f/16, 21.47", "f/22, 30.37"})
  void growsWithTheFNumber(String aperture, double micrometres) {
    assertEquals(
        micrometres, 1000 * AiryDisk.millimetres(Aperture.parse(aperture)), 0.005, aperture);
  }

  /** A circle of 0.03 mm is filled a little before f/22's exact 22.63. */
  @Test
  void fillsACircleAtAnFNumber() {
    assertEquals(22.35, AiryDisk.number(0.03), 0.01);
    assertEquals(7.45, AiryDisk.number(0.01), 0.01);
    assertThrows(IllegalArgumentException.class, () -> AiryDisk.number(0));
    assertThrows(IllegalArgumentException.class, () -> AiryDisk.number(Double.NaN));
  }
}
