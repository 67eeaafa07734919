package org.scenespan.sky;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The sun's position and the words for it. */
class SunTest {
  /** NREL's worked example, Reda and Andreas, NREL/TP-560-34302, appendix A.5. */
  @Test
  void agreesWithTheAlgorithmsExample() {
    SunPosition seen =
        Sun.seen(
            new Place(39.742476, -105.1786),
            Instant.parse("2003-10-17T19:30:30Z"),
            new Air(820, 11));
    assertEquals(50.11162, 90 - seen.altitudeDegrees(), 0.0003);
    assertEquals(194.34024, seen.azimuthDegrees(), 0.0003);
  }

  /** Saemundsson's refraction at the horizon is about 29′ [memory]; of the true horizon's sun. */
  @Test
  void theAirLiftsALowSunByAboutHalfADegree() {
    Place place = new Place(46.5, 8);
    Instant rise =
        SunDay.of(place, java.time.LocalDate.of(2026, 6, 1), java.time.ZoneOffset.UTC)
            .rising(Horizon.RISE_AND_SET)
            .orElseThrow();
    double lift =
        Sun.seen(place, rise.plusSeconds(330), Air.STANDARD).altitudeDegrees()
            - Sun.at(place, rise.plusSeconds(330)).altitudeDegrees();
    assertEquals(0.48, lift, 0.05);
  }

  @ParameterizedTest
  @CsvSource({"0, N", "11.2, N", "11.3, NNE", "45, NE", "90, E", "193, SSW", "349, N", "360, N"})
  void namesThePointOfTheCompass(double azimuth, String point) {
    assertEquals(point, new SunPosition(0, azimuth).compassPoint());
  }

  @ParameterizedTest
  @CsvSource({
    "'46.5,8.0', 46.5, 8.0",
    "' -33.9 , 18.4 ', -33.9, 18.4",
    "'+0,-180', 0, -180",
    "'90.,0', 90, 0"
  })
  void readsAPosition(String text, double latitude, double longitude) {
    assertEquals(new Place(latitude, longitude), Place.parse(text));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"", "46.5", "46.5;8", "91,0", "0,181", "NaN,0", "46.5N,8E", "1,2,3", "1e1,0"})
  void refusesWhatIsNoPosition(String text) {
    assertThrows(IllegalArgumentException.class, () -> Place.parse(text));
  }

  @Test
  void writesAPosition() {
    assertEquals("46.5000° N, 8.0000° E", new Place(46.5, 8).toString());
    assertEquals("33.9000° S, 18.4000° W", new Place(-33.9, -18.4).toString());
  }
}
