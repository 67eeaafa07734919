package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.frame.Radiance;
import org.scenespan.light.Ev;

class SceneTest {
  private static final Path SCENES = Path.of("../shared/data/scenes");

  private static final Map<String, Scene> DRAWN = new ConcurrentHashMap<>();

  /** Drawn once for all tests. */
  static Scene bundled(String name, double ev) {
    return DRAWN.computeIfAbsent(name, n -> Scene.bundled(n, new Ev(12))).at(new Ev(ev));
  }

  static double[] sortedLuminances(Scene scene) {
    double[] all = new double[scene.width() * scene.height()];
    for (int i = 0; i < all.length; i++) {
      all[i] = scene.luminance(i % scene.width(), i / scene.width());
    }
    Arrays.sort(all);
    return all;
  }

  /** Stops between two shares of the sorted luminances. */
  private static double stops(double[] sorted, double low, double high) {
    double dark = sorted[(int) (low * sorted.length)];
    double bright = sorted[(int) (high * sorted.length)];
    return Math.log(bright / dark) / Math.log(2);
  }

  @Test
  void ridgeHasFifteenStopsAtLeast() {
    Scene ridge = bundled("ridge", 12);
    assertEquals(960, ridge.width());
    assertEquals(640, ridge.height());
    double stops = stops(sortedLuminances(ridge), 0.005, 0.9999);
    assertTrue(stops >= 15 && stops < 20, stops + " stops");
  }

  @Test
  void ridgeCanBeExposedForByADay() {
    double[] sorted = sortedLuminances(bundled("ridge", 12));
    double sun = bundled("ridge", 12).evOf(sorted[sorted.length - 1]).value();
    // 1/8000 s at f/8 and ISO 100 is EV 19, which saturates 2.977 stops above [computed].
    assertTrue(sun < 21.9, "sun at EV " + sun);
  }

  @ParameterizedTest
  @CsvSource({"window, 11, 14", "flat, 2, 6"})
  void otherScenesHaveTheirRange(String name, double least, double most) {
    double stops = stops(sortedLuminances(bundled(name, 12)), 0.005, 0.9999);
    assertTrue(stops >= least && stops <= most, stops + " stops");
  }

  @Test
  void bundledSceneIsTheSameEachTime() {
    for (String name : Scene.names()) {
      Scene one = bundled(name, 12);
      Scene other = Scene.of(name, BundledScenes.draw(name), new Ev(3));
      for (int y = 0; y < one.height(); y++) {
        assertArrayEquals(one.row(y), other.row(y), name);
      }
    }
  }

  @ParameterizedTest
  @ValueSource(doubles = {-3, 0, 12, 16.5})
  void logAverageStandsAtTheSceneEv(double ev) {
    Scene scene = bundled("flat", ev);
    double mean =
        Arrays.stream(sortedLuminances(scene)).map(l -> scene.evOf(l).value()).average().orElse(0);
    assertEquals(ev, mean, 1e-6);
  }

  @Test
  void blackPixelsDoNotCountForTheLogAverage() {
    float[][] rows = {{0, 0, 0, 1, 1, 1, 4, 4, 4}};
    Scene scene = Scene.of("test", new Radiance(3, rows), new Ev(10));
    assertEquals(9, scene.evOf(1).value(), 1e-6);
    assertEquals(11, scene.evOf(4).value(), 1e-6);
  }

  @Test
  void sceneWithoutLightIsNone() {
    Radiance dark = new Radiance(1, new float[][] {{0, 0, 0}});
    assertThrows(IllegalArgumentException.class, () -> Scene.of("dark", dark, new Ev(12)));
    Radiance nan = new Radiance(1, new float[][] {{Float.NaN, 0, 0}});
    assertThrows(IllegalArgumentException.class, () -> Scene.of("nan", nan, new Ev(12)));
  }

  @Test
  void unknownNameIsToldWithTheKnownOnes() {
    var error =
        assertThrows(IllegalArgumentException.class, () -> Scene.bundled("moon", new Ev(12)));
    assertTrue(error.getMessage().contains("ridge"), error.getMessage());
  }

  /**
   * Stops from the 0.5th to the 99.99th percentile and the log-average, each computed from the same
   * files by an independent reader in another language [computed].
   */
  @ParameterizedTest
  @CsvSource({
    "venice_sunset_1k, 1024, 512, 8.854, 0.24924",
    "kiara_1_dawn_1k, 1024, 512, 10.726, 0.36707",
    "adams_place_bridge_1k, 1024, 512, 15.702, 0.16171",
    "brown_photostudio_02_1k, 1024, 512, 13.085, 0.24208",
    "peppermint_powerplant_1k, 1024, 512, 12.576, 0.0587",
    "noon_grass_1k, 1024, 512, 17.192, 0.21731",
    "Tree, 464, 453, 14.705, 0.07998",
    "MtTamWest, 607, 366, 11.106, 0.054",
    "CrissyField, 609, 405, 5.552, 0.27343",
    "Cannon, 390, 283, 4.901, 0.28803"
  })
  void realScenesLoad(String name, int width, int height, double stops, double logAverage) {
    Path file = SCENES.resolve(name + ".hdr");
    assumeTrue(Files.exists(file), "the shared scenes are not here: " + file);
    Scene scene = Scene.load(file, new Ev(12));
    assertEquals(width, scene.width());
    assertEquals(height, scene.height());
    assertEquals(stops, stops(sortedLuminances(scene), 0.005, 0.9999), 0.001);
    assertEquals(12, scene.evOf(logAverage).value(), 0.001);
  }
}
