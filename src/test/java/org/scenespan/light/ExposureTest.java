package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ExposureTest {
  /** Ev = Av + Tv at ISO 100 (CIPA DC-008, Annex C), with the numbers as they stand [computed]. */
  @ParameterizedTest
  @CsvSource({
    "8, 0.0078125, 13.000",
    "8, 0.008, 12.966",
    "16, 0.008, 14.966",
    "16, 0.01, 14.644",
    "11, 0.004, 14.885",
    "2.8, 20, -1.351"
  })
  void evOfBareNumbers(double number, double seconds, double ev) {
    Exposure exposure = new Exposure(new Shutter(seconds), new Aperture(number), new Iso(100));
    assertEquals(ev, exposure.ev().value(), 0.0005);
  }

  /** Seven exposures that hold sun and sky (Stumpfel et al. 2004): EV 4 to 21. */
  @ParameterizedTest
  @CsvSource({
    "f/4, 1s, 4",
    "f/4, 1/4, 6",
    "f/4, 1/30, 9",
    "f/16, 1/15, 12",
    "f/16, 1/125, 15",
    "f/16, 1/1000, 18",
    "f/16, 1/8000, 21"
  })
  void evOfNames(String aperture, String shutter, double ev) {
    Exposure exposure = new Exposure(Shutter.parse(shutter), Aperture.parse(aperture), Iso.EV_BASE);
    assertEquals(ev, exposure.ev().value(), 1e-9);
  }

  /** A higher ISO renders a darker scene as mid grey: EV100 = Av + Tv − (Sv − 5). */
  @ParameterizedTest
  @CsvSource({"100, 13", "200, 12", "400, 11", "50, 14"})
  void isoLowersTheEv(double iso, double ev) {
    Exposure exposure = new Exposure(new Shutter(1 / 128.0), new Aperture(8), new Iso(iso));
    assertEquals(ev, exposure.ev().value(), 1e-9);
    assertEquals(13, exposure.withIso(Iso.EV_BASE).ev().value(), 1e-9);
  }

  @Test
  void sameSettingWithinHalfAThird() {
    Exposure commanded =
        new Exposure(Shutter.parse("1/125"), Aperture.parse("f/11"), Iso.parse("100"));
    Exposure nominal = new Exposure(new Shutter(0.008), new Aperture(11), new Iso(100));
    assertTrue(commanded.isSameSetting(nominal));
    assertFalse(commanded.isSameSetting(commanded.withShutter(Shutter.parse("1/100"))));
    assertFalse(commanded.isSameSetting(commanded.withIso(Iso.parse("125"))));
    assertEquals("1/125 s, f/11, ISO 100", commanded.toString());
  }
}
