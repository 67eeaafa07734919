package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.Luminance;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.proof.Exposures;
import org.scenespan.rehearsal.Rendering;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

/**
 * Brackets of measured scenes with nothing but JPEGs that have an S over sRGB and clip 0.7 stop
 * before the sensor: they must converge, and what they call covered must be covered in the true
 * scene by the true sensor, with the camera's measured response and without it.
 */
class ToneMappedCameraTest {
  private static final Path SCENES = Path.of("../shared/data/scenes");
  private static final Ev SCENE_EV = new Ev(12);
  private static final List<String> SHUTTERS =
      List.of("1/2000", "1/1000", "1/500", "1/250", "1/125", "1/60", "1/30", "1/15", "1/8");

  /** Of every third pixel of every third row: enough of a scene, and a ninth of the time. */
  private static final int EVERY = 3;

  @TempDir private static Path directory;
  private static Path profile;
  private static String calibrated;

  /** Flat tiles over ten stops, as {@code CalibrationTest} has them. */
  @BeforeAll
  static void calibrate() throws IOException {
    float[][] rows = new float[288][3 * 384];
    for (int y = 0; y < rows.length; y++) {
      for (int x = 0; x < 384; x++) {
        int tile = y / 12 * 32 + x / 12;
        double light = Math.pow(2, 10 * (tile * 0.61803 % 1));
        for (int c = 0; c < 3; c++) {
          rows[y][3 * x + c] = (float) (light * (1 + 0.2 * ((tile + c) % 3 - 1)));
        }
      }
    }
    Scene tiles = SensorTap.scene(rows, new Ev(10));
    List<String> words = new ArrayList<>(List.of("calibrate"));
    for (int i = 0; i < SHUTTERS.size(); i++) {
      Exposure exposure = Exposures.of(SHUTTERS.get(i));
      Path jpeg = directory.resolve("CAL_" + i + ".JPG");
      Files.write(jpeg, SensorTap.jpeg(tiles, exposure, i + 1, Rendering.TONED));
      words.add(jpeg.toString());
      if (i == 2 || i == 4) {
        Path raw = directory.resolve("CAL_" + i + ".DNG");
        Files.write(raw, SensorTap.dng(tiles, exposure, i + 1));
        words.add(raw.toString());
      }
    }
    profile = directory.resolve("camera.json");
    words.addAll(List.of("--out", profile.toString()));
    Ran ran = Ran.of(words.toArray(String[]::new));
    assertEquals(0, ran.code(), ran.err());
    calibrated = ran.out();
  }

  /** A thinned scene as flat RGBE. */
  private static Path thinned(String name) throws IOException {
    Scene whole = Scene.load(SCENES.resolve(name + ".hdr"), SCENE_EV);
    int width = whole.width() / EVERY;
    int height = whole.height() / EVERY;
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.writeBytes(
        ("#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y " + height + " +X " + width + "\n")
            .getBytes(StandardCharsets.US_ASCII));
    for (int y = 0; y < height; y++) {
      float[] row = SensorTap.row(whole, y * EVERY);
      for (int x = 0; x < width; x++) {
        float[] rgb = {
          row[3 * x * EVERY], row[3 * x * EVERY + 1], row[3 * x * EVERY + 2],
        };
        float most = Math.max(rgb[0], Math.max(rgb[1], rgb[2]));
        int exponent = most < 1e-30 ? 0 : Math.getExponent(most) + 1;
        for (float value : rgb) {
          out.write(most < 1e-30 ? 0 : (int) (value * Math.scalb(256, -exponent)));
        }
        out.write(most < 1e-30 ? 0 : exponent + 128);
      }
    }
    Path file = directory.resolve(name + ".hdr");
    Files.write(file, out.toByteArray());
    return file;
  }

  /** The share of the true scene's pixels that no frame holds: clipped in the JPEG or too noisy. */
  private static double unheld(Scene scene, List<Exposure> frames) {
    NoiseModel noise = NoiseModel.TYPICAL;
    double least = noise.leastSignal(10, Iso.EV_BASE);
    double white = noise.saturation(Iso.EV_BASE) / Rendering.TONED.headroom().ratio();
    double[] perUnit = new double[frames.size()];
    for (int i = 0; i < perUnit.length; i++) {
      double stops = scene.evOf(1).minus(MidGrey.saturation(frames.get(i))).value();
      perUnit[i] = noise.saturation(Iso.EV_BASE) * Math.pow(2, stops);
    }
    long lost = 0;
    for (int y = 0; y < scene.height(); y++) {
      float[] row = SensorTap.row(scene, y);
      for (int x = 0; x < scene.width(); x++) {
        double most = Math.max(row[3 * x], Math.max(row[3 * x + 1], row[3 * x + 2]));
        double luminance = Luminance.of(row[3 * x], row[3 * x + 1], row[3 * x + 2]);
        boolean held = false;
        for (double electrons : perUnit) {
          held |= most * electrons < white && luminance * electrons >= least;
        }
        lost += held ? 0 : 1;
      }
    }
    return (double) lost / ((double) scene.width() * scene.height());
  }

  @ParameterizedTest
  @CsvSource({
    "Cannon",
    "CrissyField",
    "MtTamWest",
    "Tree",
    "adams_place_bridge_1k",
    "brown_photostudio_02_1k",
    "kiara_1_dawn_1k",
    "noon_grass_1k",
    "peppermint_powerplant_1k",
    "venice_sunset_1k",
  })
  void coversTheTrueScene(String name) throws IOException {
    assumeTrue(Files.isDirectory(SCENES), "no " + SCENES);
    Path file = thinned(name);
    Outcome guessed = bracket(file, "unmeasured");
    Outcome measured = bracket(file, "measured", "--camera", profile.toString());
    Scene scene = Scene.load(file, SCENE_EV);
    for (Outcome outcome : List.of(guessed, measured)) {
      // The shadow and the clip tolerance together, and as much as a bin's width may hide.
      assertTrue(
          !outcome.covered || unheld(scene, outcome.frames) <= 0.0051 * 1.2,
          name + ": " + unheld(scene, outcome.frames) + " lost of " + outcome);
      assertTrue(outcome.covered || outcome.stopped.equals("limit"), outcome.toString());
    }
    assertEquals(1, guessed.margin, 1e-9);
    assertEquals(0.7, measured.margin, 0.12, calibrated);
    assertTrue(measured.frames.size() <= guessed.frames.size() + 1, measured.toString());
  }

  private record Outcome(boolean covered, String stopped, double margin, List<Exposure> frames) {}

  private static Outcome bracket(Path scene, String session, String... more) throws IOException {
    Path sessions = Files.createTempDirectory(directory, session);
    Ran ran =
        Ran.line(
            "bracket --tone-mapped --json --sessions " + sessions + " --simulate " + scene, more);
    ObjectMapper mapper = new ObjectMapper();
    List<JsonNode> records = new ArrayList<>();
    for (String line : ran.out().lines().toList()) {
      records.add(mapper.readTree(line));
    }
    List<Exposure> frames = new ArrayList<>();
    for (JsonNode record : records) {
      if (record.path("type").asText().equals("frame-accepted")) {
        JsonNode exposure = record.get("exposure");
        frames.add(
            new Exposure(
                new Shutter(exposure.get("exactSeconds").asDouble()),
                Exposures.of("1/8").aperture(),
                Iso.EV_BASE));
      }
    }
    JsonNode report = records.get(records.size() - 1);
    assertEquals("report", report.path("type").asText(), ran.err());
    JsonNode margin = records.get(0).path("jpegMargin");
    assertTrue(margin.path("why").asText().contains("of margin"), margin.toString());
    return new Outcome(
        report.get("covered").asBoolean(),
        report.get("stopped").asText(),
        margin.get("stops").asDouble(),
        frames);
  }
}
