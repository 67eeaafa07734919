package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.FrameChange;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.proof.Exposures;
import org.scenespan.rehearsal.Rendering;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

/** Files of the simulated camera, set against one another as they are read. */
class EarlierFramesTest {
  private static final int WIDTH = 384;
  private static final int HEIGHT = 288;

  @TempDir private Path directory;
  private final EarlierFrames earlier = new EarlierFrames(NoiseModel.TYPICAL);

  /** Eight stops from left to right; a tile of 60 × 60 stands at a place and is twice as bright. */
  private static Scene scene(int tileAt) {
    float[][] rows = new float[HEIGHT][3 * WIDTH];
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        double light = Math.pow(2, 8.0 * x / WIDTH) * (1 + 0.3 * ((x / 3 + y / 5) % 3));
        boolean tile = x >= 150 && x < 210 && y >= tileAt && y < tileAt + 60;
        for (int c = 0; c < 3; c++) {
          rows[y][3 * x + c] = (float) (light * (tile ? 2 : 1) * (1 - 0.1 * c));
        }
      }
    }
    return SensorTap.scene(rows, new Ev(11));
  }

  private FrameReading read(String name, Scene scene, String shutter, Rendering rendering)
      throws Exception {
    Path file = directory.resolve(name);
    Exposure exposure = Exposures.of(shutter);
    int frame = name.hashCode();
    Files.write(
        file,
        name.endsWith(".DNG")
            ? SensorTap.dng(scene, exposure, frame)
            : SensorTap.jpeg(scene, exposure, frame, rendering));
    return new FrameReader()
        .read(file, Optional.of(new PreviewStore(directory.resolve("kept"))), Optional.of(earlier));
  }

  /**
   * The tile leaves one place and fills another: two of 3600 pixels, as far as both frames hold.
   */
  @ParameterizedTest
  @CsvSource({"DNG, false", "DNG, true", "JPG, false", "JPG, true"})
  void findsWhatMovedInFiles(String kind, boolean longer) throws Exception {
    String second = longer ? "1/30" : "1/500";
    read("1." + kind, scene(40), "1/125", Rendering.PLAIN);
    FrameChange still =
        read("2." + kind, scene(40), second, Rendering.PLAIN).changeFrom("1." + kind).orElseThrow();
    assertEquals(0, still.moved().value(), 0.001, still.toString());
    assertEquals(longer ? 2 : -2, still.ratio().value(), 0.05, still.toString());
    assertTrue(still.compared().value() > 0.4, still.toString());
    FrameReading moved = read("3." + kind, scene(150), second, Rendering.PLAIN);
    assertEquals(
        List.of("2." + kind, "1." + kind),
        moved.changes().stream().map(FrameChange::against).toList(),
        "the latest first");
    for (FrameChange change : moved.changes()) {
      // A block of 8 pixels that a tile only touches may count, or not.
      double share = change.moved().value() * WIDTH * HEIGHT / 2;
      assertTrue(share >= 48 * 48 && share <= 76 * 76, change.toString());
    }
  }

  /** A camera's tones are no movement, whatever the step. */
  @ParameterizedTest
  @CsvSource({"1/500", "1/60", "1/15"})
  void takesNoTonesForMovement(String shutter) throws Exception {
    read("1.JPG", scene(40), "1/125", Rendering.TONED);
    FrameChange change =
        read("2.JPG", scene(40), shutter, Rendering.TONED).changeFrom("1.JPG").orElseThrow();
    assertEquals(0, change.moved().value(), 0.002, change.toString());
  }

  /** A JPEG is not set against raw data, and no more than the last four frames are kept. */
  @Test
  void comparesLikeWithLikeAndForgets() throws Exception {
    read("1.DNG", scene(40), "1/125", Rendering.PLAIN);
    assertEquals(List.of(), read("1.JPG", scene(40), "1/125", Rendering.PLAIN).changes());
    for (int i = 2; i <= 6; i++) {
      read(i + ".JPG", scene(40), "1/125", Rendering.PLAIN);
    }
    FrameReading last = read("7.JPG", scene(40), "1/125", Rendering.PLAIN);
    assertEquals(
        List.of("6.JPG", "5.JPG", "4.JPG", "3.JPG"),
        last.changes().stream().map(FrameChange::against).toList());
  }

  @Test
  void aFrameReadAloneIsSetAgainstNothing() throws IOException, UnreadableFrame {
    Path file = directory.resolve("A.JPG");
    Files.write(file, SensorTap.jpeg(scene(40), Exposures.of("1/125"), 1));
    assertEquals(List.of(), new FrameReader().read(file).changes());
  }
}
