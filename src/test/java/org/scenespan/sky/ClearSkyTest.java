package org.scenespan.sky;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.light.Ev;

/** The light of a clear sky, against its table and independent figures. */
class ClearSkyTest {
  private static final double LARGEST_JUMP_STOPS = 0.014;

  private static double stops(double one, double other) {
    return Math.log(one / other) / Math.log(2);
  }

  /**
   * Vallado's table at the values computed from its coefficients; at a join the two rows differ by
   * up to 0.014 stop, and what stands between may be off by as much.
   */
  @ParameterizedTest
  @CsvSource({
    "20, 27376",
    "10, 11121",
    "5, 4538",
    "0, 758.6",
    "-0.833, 453.6",
    "-6, 3.412",
    "-12, 0.00806",
    "-18, 6.45e-4"
  })
  void keepsToTheTable(double altitude, double lux) {
    double found = ClearSky.illuminance(altitude).lux();
    assertEquals(0, stops(found, lux), LARGEST_JUMP_STOPS, "found " + found + " lx");
  }

  /** Glossary of Meteorology, American Meteorological Society, "twilight". */
  @ParameterizedTest
  @CsvSource({"-0.833, 410, 585", "-6, 2, 3.5", "-12, 0.0075, 0.0085", "-18, 5.5e-4, 6.5e-4"})
  void agreesWithTheGlossaryOfMeteorology(double altitude, double from, double to) {
    double found = ClearSky.illuminance(altitude).lux();
    assertTrue(found >= from && found <= to, found + " lx");
  }

  /** Ground in the last light is EV 7.5 (454 lx, C = 250), 4.5 stops under the sky's EV 12. */
  @Test
  void countsTheGroundAsIncidentLight() {
    assertEquals(7.5, ClearSky.illuminance(-0.833).ev().value(), 0.02);
  }

  @Test
  void growsWithoutAStepInValueOrSlope() {
    double step = 0.01;
    for (double h = -30; h < 89; h += step) {
      double here = log2(h);
      double slope = (log2(h + step) - here) / step;
      double slopeBefore = (here - log2(h - step)) / step;
      assertTrue(slope >= 0, "falls at " + h);
      assertEquals(slopeBefore, slope, 0.05, "slope in stops a degree at " + h);
    }
  }

  private static double log2(double altitude) {
    return ClearSky.illuminance(altitude).ev().value();
  }

  /** The rates [computed] of dawn at an equinox: fastest, and at sunrise, in stops a minute. */
  @ParameterizedTest
  @CsvSource({"0, 0.41, 0.24", "40, 0.32, 0.18", "60, 0.20, 0.12"})
  void growsFastestBeforeSunrise(double latitude, double fastest, double atSunrise) {
    Place place = new Place(latitude, 0);
    Instant rise = equinox(place).rising(Horizon.RISE_AND_SET).orElseThrow();
    assertEquals(atSunrise, ClearSky.perMinute(place, rise).value(), 0.01);
    double best = 0;
    Instant when = rise;
    for (int second = -3 * 3600; second < 3600; second += 10) {
      double rate = ClearSky.perMinute(place, rise.plusSeconds(second)).value();
      if (rate > best) {
        best = rate;
        when = rise.plusSeconds(second);
      }
    }
    assertEquals(fastest, best, 0.01);
    assertEquals(-6.8, Sun.at(place, when).altitudeDegrees(), 0.3);
  }

  /** From −12° to +6° [computed]: 19.4 stops in 72, 94 and 146 minutes. */
  @ParameterizedTest
  @CsvSource({"0, 72", "40, 94", "60, 146"})
  void takesItsTimeFromTwilightToDay(double latitude, int minutes) {
    Place place = new Place(latitude, 0);
    Instant from = equinox(place).rising(Horizon.NAUTICAL).orElseThrow();
    Instant to = from;
    while (Sun.at(place, to).altitudeDegrees() < 6) {
      to = to.plusSeconds(5);
    }
    assertEquals(minutes, Duration.between(from, to).toSeconds() / 60.0, 1);
    Ev before = ClearSky.illuminance(Sun.at(place, from)).ev();
    assertEquals(19.4, ClearSky.illuminance(Sun.at(place, to)).ev().minus(before).value(), 0.1);
  }

  private static SunDay equinox(Place place) {
    return SunDay.of(place, LocalDate.of(2026, 3, 20), ZoneOffset.UTC);
  }

  @ParameterizedTest
  @ValueSource(doubles = {-91, 91, Double.NaN})
  void refusesWhatIsNoAltitude(double altitude) {
    assertThrows(IllegalArgumentException.class, () -> ClearSky.illuminance(altitude));
  }
}
