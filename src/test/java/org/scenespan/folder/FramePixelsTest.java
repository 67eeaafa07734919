package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.PictureRows;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

/** Pixels of a simulated camera's files, against the scene's own light. */
class FramePixelsTest {
  private static final int SIZE = 64;
  private static final Exposure EXPOSURE =
      new Exposure(Shutter.parse("1/125"), Aperture.parse("f/8"), Iso.parse("100"));

  @TempDir private Path folder;

  private static final class Rows implements PictureRows {
    private PictureForm form;
    private short[][] rows;

    @Override
    public void begin(PictureForm begun) {
      form = begun;
      rows = new short[form.height()][];
    }

    @Override
    public void row(int y, short[] rgb) {
      assertNull(rows[y]);
      rows[y] = rgb.clone();
    }

    double light(int x, int y, int channel) {
      return form.response().light(rows[y][3 * x + channel] & 0xffff);
    }

    double mean(int channel, int left, int right) {
      double sum = 0;
      for (int y = 0; y < SIZE; y++) {
        for (int x = left; x < right; x++) {
          sum += light(x, y, channel);
        }
      }
      return sum / SIZE / (right - left);
    }
  }

  private Rows read(String name, byte[] bytes) throws IOException, UnreadableFrame {
    Path file = Files.write(folder.resolve(name), bytes);
    Rows rows = new Rows();
    FramePixels.read(file, rows);
    assertEquals(SIZE, rows.form.width());
    assertEquals(SIZE, rows.rows.length);
    assertTrue(EXPOSURE.isSameSetting(rows.form.metadata().exposure().orElseThrow()));
    return rows;
  }

  /** Left without light, right of one colour: so bright in red, green and blue. */
  private static Scene scene(double ev, double red, double green, double blue) {
    float[][] pixels = new float[SIZE][3 * SIZE];
    for (float[] row : pixels) {
      for (int x = SIZE / 2; x < SIZE; x++) {
        row[3 * x] = (float) red;
        row[3 * x + 1] = (float) green;
        row[3 * x + 2] = (float) blue;
      }
    }
    return SensorTap.scene(pixels, new Ev(ev));
  }

  private static double part(Scene scene, double value) {
    return scene.evOf(value).minus(MidGrey.saturation(EXPOSURE)).ratio();
  }

  /**
   * Means within four deviations of photon noise; black stays centred, since noise goes below it.
   */
  @Test
  void aMosaicComesInFullColour() throws Exception {
    Scene scene = scene(13, 0.5, 1, 2);
    Rows rows = read("a.dng", SensorTap.dng(scene, EXPOSURE, 1));
    double[] values = {0.5, 1, 2};
    for (int channel = 0; channel < 3; channel++) {
      double light = part(scene, values[channel]);
      double deviation = Math.sqrt(light / 50_000 / (SIZE * SIZE / 2 / 4.0));
      assertEquals(light, rows.mean(channel, SIZE / 2 + 2, SIZE), 4 * deviation);
      double floor = 3.0 / 50_000 / Math.sqrt(SIZE * SIZE / 2 / 4.0);
      assertEquals(0, rows.mean(channel, 0, SIZE / 2 - 2), 5 * floor);
    }
  }

  /** What one clipped site goes into is clipped; an unclipped channel beside it is not. */
  @Test
  void whatIsClippedStaysClipped() throws Exception {
    Rows rows = read("a.dng", SensorTap.dng(scene(17, 0.5, 64, 1), EXPOSURE, 1));
    for (int x = SIZE / 2; x < SIZE; x++) {
      assertEquals(1, rows.light(x, 9, 1));
      assertTrue(rows.light(x, 9, 0) < 0.9);
    }
  }

  /** A JPEG's own codes: within three of those that went in, at quality 0.97. */
  @Test
  void aJpegComesInItsOwnCodes() throws Exception {
    Scene scene = scene(13, 0.5, 1, 2);
    Rows rows = read("a.jpg", SensorTap.jpeg(scene, EXPOSURE, 1));
    short[] codes =
        SensorTap.rendered8(
            scene, EXPOSURE, 1, light -> org.scenespan.frame.ToneResponse.linearToSrgb(light));
    double sum = 0;
    for (int i = 0; i < codes.length; i++) {
      sum += Math.abs(codes[i] - rows.rows[i / 3 / SIZE][i % (3 * SIZE)]);
    }
    assertTrue(sum / codes.length < 1.5, "mean difference " + sum / codes.length);
    assertTrue(rows.form.rendered());
  }

  @Test
  void whatIsNoFrameIsRefused() throws IOException {
    byte[] jpeg = SensorTap.jpeg(scene(13, 1, 1, 1), EXPOSURE, 1);
    byte[] dng = SensorTap.dng(scene(13, 1, 1, 1), EXPOSURE, 1);
    List<byte[]> wrong =
        List.of(
            new byte[0],
            "no picture at all".getBytes(java.nio.charset.StandardCharsets.US_ASCII),
            Arrays.copyOf(jpeg, jpeg.length / 2),
            Arrays.copyOf(dng, dng.length / 2));
    for (byte[] bytes : wrong) {
      Path file = Files.write(folder.resolve("wrong"), bytes);
      assertThrows(UnreadableFrame.class, () -> FramePixels.read(file, new Rows()));
    }
    assertThrows(UnreadableFrame.class, () -> FramePixels.read(folder.resolve("none"), new Rows()));
  }
}
