package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.control.CameraProfiles;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.MeasuredNoise;
import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.proof.Exposures;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

/** A simulated camera's bracket of a bundled scene, calibrated from its files. */
class CalibrateCommandTest {
  private static final List<String> SHUTTERS =
      List.of("1/4000", "1/1000", "1/500", "1/250", "1/125", "1/60", "1/30", "1/8");

  @TempDir private static Path frames;
  @TempDir private Path directory;
  private static List<String> bracket;

  /** Files of a bracket of the ridge: JPEGs, and the raw of two. */
  @BeforeAll
  static void shoot() throws IOException {
    Scene scene = Scene.bundled("ridge", new Ev(12));
    List<String> files = new ArrayList<>();
    for (String shutter : SHUTTERS) {
      Exposure exposure = Exposures.of(shutter);
      int number = files.size() + 1;
      Path jpeg = frames.resolve("CAL_" + number + ".JPG");
      Files.write(jpeg, SensorTap.jpeg(scene, exposure, number));
      files.add(jpeg.toString());
    }
    for (int number : new int[] {3, 5}) {
      Path raw = frames.resolve("CAL_" + number + ".DNG");
      Exposure exposure = Exposures.of(SHUTTERS.get(number - 1));
      Files.write(raw, SensorTap.dng(scene, exposure, number));
      files.add(raw.toString());
    }
    bracket = files;
  }

  private Ran calibrate(List<String> files, String... more) {
    List<String> words = new ArrayList<>(files);
    words.addAll(List.of(more));
    return Ran.line("calibrate", words.toArray(String[]::new));
  }

  /**
   * The simulated camera renders plain sRGB (IEC 61966-2-1): covered codes from 24 on within 0.1
   * stop of it relative to code 128, and raw and JPEG clip together: no headroom, within 0.1 stop.
   */
  @Test
  void findsTheSimulatedCamerasResponse() throws IOException {
    Path profiles = directory.resolve("profiles");
    Ran ran = calibrate(bracket, "--camera-profiles", profiles.toString());
    assertEquals(0, ran.code(), ran.err());
    Path file = profiles.resolve("simulated-camera.json");
    assertTrue(ran.out().contains("Response from 8 frames over 9.0 stops"), ran.out());
    assertTrue(ran.out().contains("Written to " + file), ran.out());
    CameraProfile profile = new CameraProfiles(profiles).load("simulated-camera");
    ToneResponse srgb = ToneResponse.srgb(8);
    for (CameraProfile.Channel channel : profile.channels()) {
      for (int code = 24; code <= Math.min(240, channel.highestCode()); code++) {
        double found = channel.response().linear(code) / channel.response().linear(128);
        double truth = srgb.linear(code) / srgb.linear(128);
        assertEquals(0, Math.log(found / truth) / Math.log(2), 0.1, "code " + code);
      }
    }
    assertEquals(0, profile.leastHeadroom().orElseThrow().stops(), 0.1);
    // The two raw files alone: NoiseModel.TYPICAL is the truth.
    MeasuredNoise noise = profile.noise().get(0);
    assertEquals(50_000, noise.saturation(), 3 * noise.saturationError(), ran.out());
    assertEquals(3, noise.readNoise(), 3 * noise.readNoiseError(), ran.out());
  }

  /** A second calibration replaces the first; another file is left alone. */
  @Test
  void replacesAProfileAndNothingElse() throws IOException {
    List<String> files = bracket;
    Path out = directory.resolve("mine.json");
    assertEquals(0, calibrate(files, "--out", out.toString()).code());
    assertEquals(0, calibrate(files, "--out", out.toString()).code());
    Files.writeString(out, "my own notes");
    Ran refused = calibrate(files, "--out", out.toString());
    assertEquals(2, refused.code());
    assertTrue(refused.err().contains("is in the way"), refused.err());
    assertEquals("my own notes", Files.readString(out));
  }

  @Test
  void saysWhatIsMissing() throws IOException {
    List<String> files = bracket;
    Ran narrow = calibrate(files.subList(2, 4), "--out", directory.resolve("x.json").toString());
    assertEquals(2, narrow.code());
    assertTrue(narrow.err().contains("do not show a response"), narrow.err());
    Ran gone = calibrate(List.of(files.get(0), directory.resolve("none.jpg").toString()));
    assertEquals(2, gone.code());
    assertTrue(gone.err().contains("none.jpg"), gone.err());
    assertEquals(1, gone.err().lines().count());
  }
}
