package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;
import org.scenespan.sky.Place;

class LightCurveTest {
  @TempDir Path folder;

  private Path file(String text) throws IOException {
    return Files.writeString(folder.resolve("light.csv"), text);
  }

  @Test
  void runsStraightBetweenRows() throws IOException {
    LightTable table = LightCurve.read(file("seconds,ev\r\n0,-8\r\n30,-6.5\r\n90, 1e1\r\n"));
    assertEquals(3, table.rows());
    assertEquals(90, table.lastSeconds());
    assertEquals(-8, table.at(-5).value());
    assertEquals(-7.25, table.at(15).value(), 1e-12);
    assertEquals(-6.5, table.at(30).value());
    assertEquals(1.75, table.at(60).value(), 1e-12);
    assertEquals(10, table.at(1000).value());
  }

  static Stream<Arguments> wrong() {
    return Stream.of(
        Arguments.of("", "line 1"),
        Arguments.of("0,1\n", "line 1"),
        Arguments.of("seconds,ev\n", "line 2"),
        Arguments.of("seconds,ev\n0,1\n\n", "line 3"),
        Arguments.of("seconds,ev\n0,1\n30\n", "line 3"),
        Arguments.of("seconds,ev\n0,1\n30,2,3\n", "line 3"),
        Arguments.of("seconds,ev\n0,1\n0,2\n", "line 3"),
        Arguments.of("seconds,ev\n0,NaN\n", "line 2"),
        Arguments.of("seconds,ev\n0,0x1p3\n", "line 2"),
        Arguments.of("seconds,ev\n0,1e300\n", "line 2"),
        Arguments.of("seconds,ev\n-1,1\n", "line 2"),
        Arguments.of("seconds,ev\n0," + "1".repeat(1000), "line 2"));
  }

  @ParameterizedTest
  @MethodSource("wrong")
  void namesTheLineThatIsWrong(String text, String line) throws IOException {
    Path csv = file(text);
    var refused = assertThrows(IllegalArgumentException.class, () -> LightCurve.read(csv));
    assertTrue(refused.getMessage().contains(line + ":"), refused.getMessage());
    assertEquals(1, refused.getMessage().lines().count());
  }

  @Test
  void refusesWhatIsNotThereOrNoText() throws IOException {
    Path none = folder.resolve("none.csv");
    Path bytes = Files.write(folder.resolve("bytes.csv"), new byte[] {(byte) 0xff, 0, 1});
    assertThrows(IllegalArgumentException.class, () -> LightCurve.read(none));
    assertThrows(IllegalArgumentException.class, () -> LightCurve.read(bytes));
    assertThrows(IllegalArgumentException.class, () -> LightCurve.read(folder));
  }

  /** The American Meteorological Society's glossary: 585 to 410 lx on the ground at sunrise. */
  @Test
  void theClearSkyRisesThroughTheKnownLight() {
    LightCurve sky =
        LightCurve.clearSky(new Place(33.8, -84.4), Instant.parse("2009-09-06T11:15:00Z"));
    double lux = 2.5 * sky.at(0).minus(new Ev(0)).ratio();
    assertTrue(lux > 410 && lux < 585, "lux at sunrise " + lux);
  }

  @Test
  void cloudsShadeWithinTheirBoundsAndLeaveGaps() {
    double deepest = 0;
    double brightest = 0;
    int shaded = 0;
    for (int seed = 0; seed < 20; seed++) {
      BrokenCloud cloud = BrokenCloud.of(seed);
      for (int t = 0; t < 10_000; t++) {
        double value = cloud.at(t).value();
        assertTrue(value >= -2.3 && value <= 0.58, "at " + t + ": " + value);
        assertTrue(Math.abs(cloud.at(t + 0.1).value() - value) < 0.12, "continuous at " + t);
        deepest = Math.min(deepest, value);
        brightest = Math.max(brightest, value);
        shaded += value < -0.25 ? 1 : 0;
      }
    }
    assertTrue(deepest < -2.2, "deepest " + deepest);
    assertTrue(brightest > 0.5, "brightest " + brightest);
    assertTrue(shaded > 40_000 && shaded < 80_000, "shaded " + shaded + " of 200000 s");
    assertEquals(BrokenCloud.of(7).at(4321.5), BrokenCloud.of(7).at(4321.5));
  }

  /** Evenly spread ±a has the deviation a/√3. */
  @Test
  void scatterHasItsDeviationAndRepeats() {
    LightScatter scatter = LightScatter.usual(3);
    double sum = 0;
    double squares = 0;
    for (int i = 0; i < 20_000; i++) {
      double value = scatter.of(i).value();
      sum += value;
      squares += value * value;
    }
    assertEquals(0, sum / 20_000, 0.002);
    assertEquals(Math.sqrt(0.01 / 3 + 0.0004), Math.sqrt(squares / 20_000), 0.001);
    assertEquals(scatter.of(17), LightScatter.usual(3).of(17));
    assertEquals(Stops.ZERO, LightScatter.none().of(5));
  }
}
