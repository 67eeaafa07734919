package org.scenespan.light;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Depth of field, motion, stars and filters against figures from outside. */
class OpticsTest {
  private static final double FOOT = 0.3048;

  /**
   * Hyperfocal distances by the form without the added f. An army course book: 2 in, f/8, c 0.002
   * in gives 20.8 ft. The trade's tables [practice]: 35 mm f/11 c 0.03 gives 3.712 m; 50 mm f/8 c
   * 0.033, 9.47 m. 50 mm f/8 c 0.03, 10.467 m with f [computed]. The f-numbers are meant as
   * written.
   */
  @ParameterizedTest
  @CsvSource({
    "50.8, 8, 0.0508, 6.340, 0.015",
    "35, 11, 0.03, 3.712, 0.001",
    "50, 8, 0.033, 9.47, 0.005",
    "50, 8, 0.03, 10.417, 0.001"
  })
  void knowsTheHyperfocalDistance(
      double f, double number, double circle, double metres, double within) {
    Distance found = DepthOfField.hyperfocal(new FocalLength(f), new Aperture(number), circle);
    assertEquals(metres, found.metres() - f / 1000, within);
  }

  @Test
  void focusedThereHoldsFromHalfOfItToInfinity() {
    FocalLength lens = new FocalLength(50.8);
    Aperture f8 = new Aperture(8);
    DepthOfField found =
        new DepthOfField(lens, f8, 0.0508, DepthOfField.hyperfocal(lens, f8, 0.0508));
    assertEquals(10.4 * FOOT, found.near().metres(), 0.1 * FOOT);
    assertTrue(found.far().isInfinite());
  }

  /** 50 mm f/8 c 0.03 at 3 m: 2.338 to 4.185 m [computed]. */
  @Test
  void knowsBothLimits() {
    DepthOfField found =
        new DepthOfField(new FocalLength(50), new Aperture(8), 0.03, new Distance(3));
    assertEquals(2.338, found.near().metres(), 0.001);
    assertEquals(4.185, found.far().metres(), 0.001);
  }

  @ParameterizedTest
  @CsvSource({"50, 2.338, 4.185", "24, 1, 30", "24, 0.9, Infinity", "400, 20, 24"})
  void whatHoldsBothEndsHoldsThem(double f, double near, double far) {
    FocalLength lens = new FocalLength(f);
    DepthOfField.Holding holding =
        DepthOfField.holding(lens, 0.03, new Distance(near), new Distance(far));
    DepthOfField found =
        new DepthOfField(lens, new Aperture(holding.number()), 0.03, holding.focus());
    assertEquals(near, found.near().metres(), near * 1e-9);
    assertEquals(1 / far, 1 / found.far().metres(), 1e-9);
  }

  @Test
  void solvesTheComputedCaseBackwards() {
    DepthOfField.Holding holding =
        DepthOfField.holding(new FocalLength(50), 0.03, new Distance(2.338), new Distance(4.185));
    assertEquals(8, holding.number(), 0.01);
    assertEquals(3, holding.focus().metres(), 0.001);
  }

  /** 0.5 m/s at 10 m, 24 mm, 5.9 µm, 1/30 s: 6.8 px [practice]. */
  @Test
  void knowsTheBlurOfMotion() {
    SensorFormat sensor = new SensorFormat(35.4, 23.6, 6000);
    FocalLength lens = new FocalLength(24);
    Movement walking = new Movement(new Speed(0.5), new Distance(10), Movement.Direction.ACROSS);
    assertEquals(5.9, sensor.pitchMicrometres(), 1e-9);
    assertEquals(6.8, walking.blurPixels(new Shutter(1 / 30.0), lens, sensor), 0.05);
    double longest = walking.longestSeconds(6.78, lens, sensor);
    assertEquals(1 / 30.0, longest, 1e-4);
  }

  @Test
  void whatComesTowardsTheCameraBlursLess() {
    SensorFormat sensor = SensorFormat.parse("full-frame", 6000);
    FocalLength lens = new FocalLength(100);
    double across = speed(Movement.Direction.ACROSS, lens, sensor);
    assertEquals(across / Math.sqrt(2), speed(Movement.Direction.DIAGONAL, lens, sensor), 1e-12);
    assertEquals(
        across * sensor.diagonalMillimetres() / 2 / 100,
        speed(Movement.Direction.TOWARD, lens, sensor),
        1e-12);
  }

  private static double speed(Movement.Direction direction, FocalLength lens, SensorFormat sensor) {
    return new Movement(new Speed(2), new Distance(10), direction)
        .imageMillimetresPerSecond(lens, sensor);
  }

  /**
   * 14 mm f/2.8, 4.35 µm: 16.3 s simple, 7.74 s full at k 1 and δ 0, 500 rule 35.7 s [practice].
   */
  @Test
  void knowsHowLongStarsStayPoints() {
    SensorFormat sensor = new SensorFormat(36, 24, (int) Math.round(36_000 / 4.35));
    Stars stars = new Stars(new FocalLength(14), new Aperture(2.8), sensor, 0);
    assertEquals(16.3, stars.simple(), 0.05);
    assertEquals(7.74, stars.full(1), 0.01);
    assertEquals(35.7, stars.ruleOf500(), 0.05);
    assertEquals(14 * 0.0729, stars.driftMicrometresPerSecond(), 0.001);
    Stars high = new Stars(new FocalLength(14), new Aperture(2.8), sensor, 60);
    assertEquals(2, high.full(1) / stars.full(1), 1e-9);
  }

  /** Stops = OD / 0.30103 [computed]. */
  @ParameterizedTest
  @CsvSource({"0.3, 0.997", "0.6, 1.99", "0.9, 2.99", "1.8, 5.98", "3.0, 9.97", "5.0, 16.6"})
  void knowsTheStopsOfADensity(double density, double stops) {
    assertEquals(stops, NeutralDensity.ofDensity(density).stops(), 0.01);
    assertEquals(stops, NeutralDensity.parse("OD" + density).stops(), 0.01);
  }

  @ParameterizedTest
  @CsvSource({"ND8, 3", "nd64, 6", "10stops, 10", "1 stop, 1", "ND8+OD0.30103, 4", "ND1000, 9.966"})
  void readsAFilter(String text, double stops) {
    assertEquals(stops, NeutralDensity.parse(text).stops(), 0.001);
  }

  @Test
  void aFilterLengthensTheShutter() {
    NeutralDensity filter = NeutralDensity.parse("10stops");
    assertEquals(8, filter.seconds(Shutter.parse("1/125")), 1e-9);
    assertEquals(5, filter.behind(new Ev(15)).value(), 1e-9);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "3.0", "ND", "ND0", "OD-1", "40stops", "ODNaN"})
  void refusesWhatIsNoFilter(String text) {
    assertThrows(IllegalArgumentException.class, () -> NeutralDensity.parse(text));
  }

  @ParameterizedTest
  @CsvSource({
    "3m, 3, 3.00 m",
    "80cm, 0.8, 0.80 m",
    "1.5km, 1500, 1.5 km",
    "12, 12, 12.0 m",
    "infinity, Infinity, infinity"
  })
  void readsAndShowsADistance(String text, double metres, String shown) {
    assertEquals(metres, Distance.parse(text).metres(), 1e-12);
    assertEquals(shown, Distance.parse(text).toString());
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "0", "-3m", "near", "NaN", "3ft"})
  void refusesWhatIsNoDistance(String text) {
    assertThrows(IllegalArgumentException.class, () -> Distance.parse(text));
  }

  /** The trade's 0.03 mm for 36 × 24 mm and in proportion [practice]. */
  @ParameterizedTest
  @CsvSource({
    "full-frame, 0.03, 1",
    "36x24, 0.03, 1",
    "aps-c, 0.01955, 1.534",
    "four-thirds, 0.015, 2.0",
  })
  void knowsTheSensors(String text, double circle, double crop) {
    SensorFormat sensor = SensorFormat.parse(text, 6000);
    assertEquals(circle, sensor.circleMillimetres(), 0.0001);
    assertEquals(crop, sensor.crop(), 0.002);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "36", "24x36", "axb", "0x0", "36x24x1"})
  void refusesWhatIsNoSensor(String text) {
    assertThrows(IllegalArgumentException.class, () -> SensorFormat.parse(text, 6000));
  }

  @ParameterizedTest
  @CsvSource({"5km/h, 1.3889", "1.4m/s, 1.4", "2, 2"})
  void readsASpeed(String text, double metresPerSecond) {
    assertEquals(metresPerSecond, Speed.parse(text).metresPerSecond(), 0.0001);
  }

  /** ANSI PH2.7. */
  @ParameterizedTest
  @CsvSource({
    "sunlit-snow, 16, 16",
    "sun, 15, 15",
    "open-shade, 12, 12",
    "sky-after-sunset, 9, 11",
    "home-interior, 5, 7",
    "full-moon, -3, -2"
  })
  void knowsTheTableOfLight(String label, double from, double to) {
    Lighting lighting = Lighting.parse(label);
    assertEquals(from, lighting.from().value());
    assertEquals(to, lighting.to().value());
    assertEquals((from + to) / 2, lighting.ev().value());
  }

  @Test
  void refusesLightThatIsNotInTheTable() {
    assertThrows(IllegalArgumentException.class, () -> Lighting.parse("candle"));
  }
}
