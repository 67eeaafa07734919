package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class LatitudeTest {
  private static final CameraRange CAMERA =
      new CameraRange(
          ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
          Iso.parse("100"),
          Iso.parse("6400"),
          Aperture.parse("f/1.4"),
          Aperture.parse("f/22"));

  private static final PictureLimits F8 = PictureLimits.at(Aperture.parse("f/8"));

  static Stream<Latitude> latitudes() {
    return Stream.of(
        Latitude.of(CAMERA, F8),
        Latitude.of(CAMERA, F8.withHighestIso(Iso.parse("1600"))),
        Latitude.of(
            CAMERA,
            F8.withLongest(Shutter.parse("1/60"))
                .withShortest(Shutter.parse("1/1000"))
                .withHighestIso(Iso.parse("800"))),
        Latitude.of(
            CAMERA, PictureLimits.at(Aperture.parse("f/11")).withLongest(Shutter.parse("1/125"))));
  }

  @ParameterizedTest
  @MethodSource("latitudes")
  void nearestIsWithinHalfAThird(Latitude latitude) {
    double low = latitude.brightest().ev().value();
    double high = latitude.darkest().ev().value();
    for (double ev = low; ev <= high; ev += 0.01) {
      double got = latitude.at(new Ev(ev), Rounding.NEAREST).ev().value();
      assertEquals(ev, got, 1.0 / 6 + 1e-6);
    }
  }

  @ParameterizedTest
  @MethodSource("latitudes")
  void brighterIsNeverDarkerAndDarkerNeverBrighter(Latitude latitude) {
    double low = latitude.brightest().ev().value();
    double high = latitude.darkest().ev().value();
    for (double ev = low; ev <= high; ev += 0.01) {
      double brighter = latitude.at(new Ev(ev), Rounding.BRIGHTER).ev().value();
      double darker = latitude.at(new Ev(ev), Rounding.DARKER).ev().value();
      assertTrue(brighter <= ev + 1e-5 && brighter > ev - 1.0 / 3 - 1e-5, ev + ": " + brighter);
      assertTrue(darker >= ev - 1e-5 && darker < ev + 1.0 / 3 + 1e-5, ev + ": " + darker);
    }
  }

  @ParameterizedTest
  @MethodSource("latitudes")
  void beyondAnEndIsThatEnd(Latitude latitude) {
    for (Rounding rounding : Rounding.values()) {
      assertEquals(latitude.darkest(), latitude.at(new Ev(40), rounding));
      assertEquals(latitude.brightest(), latitude.at(new Ev(-40), rounding));
    }
    assertFalse(latitude.canReach(new Ev(40)));
    assertFalse(latitude.canReach(new Ev(-40)));
    assertTrue(latitude.canReach(latitude.darkest().ev()));
    assertTrue(latitude.canReach(latitude.brightest().ev()));
  }

  /** f/8 at 1/8000 s is EV 6 + 13, at 30 s (exactly 32) EV 6 − 5, ISO 1600 four stops less. */
  static Stream<Arguments> ends() {
    return Stream.of(
        Arguments.of(F8, 19, 1),
        Arguments.of(F8.withHighestIso(Iso.parse("1600")), 19, -3),
        Arguments.of(F8.withLongest(Shutter.parse("1/60")), 19, 12),
        Arguments.of(F8.withShortest(Shutter.parse("1/1000")), 16, 1));
  }

  @ParameterizedTest
  @MethodSource("ends")
  void howFarOneCanGo(PictureLimits picture, double darkest, double brightest) {
    Latitude latitude = Latitude.of(CAMERA, picture);
    assertEquals(darkest, latitude.darkest().ev().value(), 1e-9);
    assertEquals(brightest, latitude.brightest().ev().value(), 1e-9);
  }

  @Test
  void roomOnBothSides() {
    Latitude latitude = Latitude.of(CAMERA, F8.withHighestIso(Iso.parse("400")));
    Exposure from = latitude.at(new Ev(13), Rounding.NEAREST);
    Latitude.Room room = latitude.room(from);
    assertEquals(6, room.darker().value(), 1e-9);
    assertEquals(14, room.brighter().value(), 1e-9);
    assertEquals("1/8000 s, f/8, ISO 100", room.darkest().toString());
    assertEquals("30 s, f/8, ISO 400", room.brightest().toString());
  }

  @Test
  void isoRisesOnlyWhereTheLongestShutterBinds() {
    Latitude latitude =
        Latitude.of(
            CAMERA, F8.withLongest(Shutter.parse("1/60")).withHighestIso(Iso.parse("6400")));
    assertEquals("1/60 s, f/8, ISO 100", latitude.at(new Ev(12), Rounding.NEAREST).toString());
    assertEquals("1/60 s, f/8, ISO 200", latitude.at(new Ev(11), Rounding.NEAREST).toString());
    assertEquals("1/125 s, f/8, ISO 100", latitude.at(new Ev(13), Rounding.NEAREST).toString());
  }

  static Stream<PictureLimits> contradictions() {
    return Stream.of(
        PictureLimits.at(Aperture.parse("f/32")),
        PictureLimits.at(Aperture.parse("f/1")),
        F8.withShortest(Shutter.parse("60s")),
        F8.withLongest(Shutter.parse("1/16000")),
        F8.withHighestIso(Iso.parse("50")));
  }

  @ParameterizedTest
  @MethodSource("contradictions")
  void contradictoryLimitsAreRefused(PictureLimits picture) {
    assertThrows(IllegalArgumentException.class, () -> Latitude.of(CAMERA, picture));
  }

  @Test
  void shortestAboveLongestIsRefused() {
    assertThrows(
        IllegalArgumentException.class,
        () -> F8.withShortest(Shutter.parse("1s")).withLongest(Shutter.parse("1/2")));
  }
}
