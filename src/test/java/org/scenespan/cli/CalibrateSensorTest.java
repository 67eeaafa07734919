package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.control.CameraProfiles;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.MeasuredNoise;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.ShutterError;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.proof.Exposures;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

/** Raw files of a simulated camera whose noise and whose shutter are known. */
class CalibrateSensorTest {
  private static final NoiseModel TRUTH = new NoiseModel(30_000, 4.2, 14, Iso.EV_BASE);

  /** How much longer than its exact time a shutter is open, stops. */
  private static final Map<String, Double> OFF =
      Map.of("1/500", 0.12, "1/125", -0.05, "1/30", 0.03, "1/8", 0.0);

  /** By how much one release differs from the next. */
  private static final double SCATTER = 0.004;

  @TempDir private Path directory;

  /** Surfaces of 16 pixels over six stops, each with a little texture. */
  private static Scene wall() {
    float[][] rows = new float[384][3 * 512];
    for (int y = 0; y < rows.length; y++) {
      for (int x = 0; x < 512; x++) {
        int tile = y / 16 * 32 + x / 16;
        double light = Math.pow(2, 6 * (tile * 0.61803 % 1)) * (1 + 0.02 * ((x + y) % 3));
        for (int c = 0; c < 3; c++) {
          rows[y][3 * x + c] = (float) light;
        }
      }
    }
    return SensorTap.scene(rows, new Ev(10));
  }

  private List<String> frames(int each, List<String> shutters) throws IOException {
    Scene wall = wall();
    List<String> files = new ArrayList<>();
    for (String shutter : shutters) {
      for (int i = 0; i < each; i++) {
        Exposure told = Exposures.of(shutter);
        double off = OFF.getOrDefault(shutter, 0.0) + (2 * i - 1) * SCATTER;
        Exposure real = told.withShutter(new Shutter(told.shutter().seconds() * Math.pow(2, off)));
        int number = files.size() + 1;
        Path file = directory.resolve("FLAT_" + number + ".DNG");
        Files.write(file, SensorTap.dng(wall, TRUTH, real, told, number));
        files.add(file.toString());
      }
    }
    return files;
  }

  private Ran calibrate(List<String> files, String... more) {
    List<String> words = new ArrayList<>(files);
    words.add("--camera-profiles=" + directory.resolve("profiles"));
    words.addAll(List.of(more));
    return Ran.line("calibrate", words.toArray(String[]::new));
  }

  private CameraProfile profile() {
    return new CameraProfiles(directory.resolve("profiles")).load("simulated-camera");
  }

  /** Truth within three of its own standard errors, and these small enough to be of use. */
  private static void holds(MeasuredNoise noise) {
    String told = noise.toString();
    assertEquals(TRUTH.fullWell(), noise.saturation(), 3 * noise.saturationError(), told);
    assertEquals(TRUTH.readNoise(), noise.readNoise(), 3 * noise.readNoiseError(), told);
    assertEquals(14, noise.bits());
    assertTrue(noise.saturationError() < 0.02 * TRUTH.fullWell(), told);
    assertTrue(noise.readNoiseError() < 0.15 * TRUTH.readNoise(), told);
  }

  @Test
  void findsNoiseAndShutterTimesFromPairs() throws IOException {
    Ran ran = calibrate(frames(2, List.of("1/500", "1/125", "1/30", "1/8")));
    assertEquals(0, ran.code(), ran.err());
    MeasuredNoise noise = profile().noise().get(0);
    assertTrue(noise.equalPairs());
    assertEquals(8, noise.frames());
    holds(noise);
    for (ShutterError error : profile().shutters().orElseThrow().errors()) {
      double truth = 0;
      for (Map.Entry<String, Double> off : OFF.entrySet()) {
        if (Exposures.of(off.getKey()).shutter().equals(error.shutter())) {
          truth = off.getValue() - OFF.get("1/8");
        }
      }
      assertEquals(truth, error.error().value(), 3 * error.standardError() + 1e-9, ran.out());
      assertTrue(error.standardError() < 0.02, ran.out());
      assertEquals(2, error.frames());
    }
    assertEquals(Exposures.of("1/8").shutter(), profile().shutters().orElseThrow().reference());
    assertTrue(ran.out().contains("photon transfer from pairs of equal frames: 8 frames"));
    assertTrue(ran.out().contains("Response: not told by these files"), ran.out());
  }

  /** Wider than from pairs of as many frames, and says so. */
  @Test
  void findsNoiseFromABracketAloneLessSurely() throws IOException {
    List<String> shutters = List.of("1/1000", "1/500", "1/250", "1/125", "1/60", "1/30");
    Ran ran = calibrate(frames(1, shutters));
    assertEquals(0, ran.code(), ran.err());
    MeasuredNoise alone = profile().noise().get(0);
    assertFalse(alone.equalPairs());
    assertEquals(6, alone.frames());
    holds(alone);
    assertTrue(ran.out().contains("from the steps of a bracket: 6 frames"), ran.out());
    assertTrue(ran.out().contains("One frame each does not tell"), ran.out());
    assertTrue(ran.out().contains("Better: two frames with the same settings"), ran.out());
    assertEquals(0, calibrate(frames(2, List.of("1/1000", "1/125", "1/30"))).code());
    MeasuredNoise pairs = profile().noise().get(0);
    assertTrue(pairs.equalPairs());
    assertTrue(alone.saturationError() > pairs.saturationError(), alone + " " + pairs);
  }

  /**
   * The sensor's own numbers stand in the session that is planned by them, and the session tells
   * the lag, which is kept beside them.
   */
  @Test
  void isPlannedByAndAddsWhatASessionTells() throws IOException {
    assertEquals(0, calibrate(frames(2, List.of("1/500", "1/125", "1/30"))).code());
    double well = profile().noise().get(0).saturation();
    String kept = "--sessions=" + directory.resolve("sessions");
    Ran bracket =
        Ran.line(
            "bracket --simulate flat --json --raw --camera simulated-camera",
            "--camera-profiles=" + directory.resolve("profiles"),
            kept);
    assertEquals(0, bracket.code(), bracket.err());
    String opened = bracket.out().lines().findFirst().orElseThrow();
    double planned = Double.parseDouble(opened.split("\"fullWellElectrons\":")[1].split(",")[0]);
    assertEquals(well, planned, 1e-3 * well);
    assertEquals(TRUTH.fullWell(), planned, 0.05 * TRUTH.fullWell());
    String name;
    try (Stream<Path> sessions = Files.list(directory.resolve("sessions"))) {
      name = sessions.findFirst().orElseThrow().getFileName().toString();
    }
    Ran ran = calibrate(List.of(), "--session=" + name, kept);
    assertEquals(0, ran.code(), ran.err());
    assertTrue(ran.out().contains("over what it had"), ran.out());
    CameraProfile both = profile();
    assertEquals(1, both.noise().size());
    // The simulated camera's 60 ms of lag, 500 ms of writing, and the quiet time of a whole file.
    double lag = both.lag().orElseThrow().file();
    assertTrue(lag > 0.56 && lag < 3, ran.out());
    Ran refused = calibrate(List.of());
    assertEquals(2, refused.code());
    assertTrue(refused.err().contains("--session"), refused.err());
  }
}
