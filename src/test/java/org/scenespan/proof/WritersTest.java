package org.scenespan.proof;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.opencv.core.CvType;
import org.opencv.core.Mat;
import org.opencv.imgcodecs.Imgcodecs;
import org.scenespan.rehearsal.SensorTap;

/** What is written is what others read: OpenCV, the JDK, and the rehearsal's strict reader. */
class WritersTest {
  private static final int HEIGHT = 9;

  @TempDir private Path folder;

  /** Rows of runs, of noise, of black, and of light over 30 stops. */
  private static float[] picture(int width) {
    Random random = new Random(width);
    float[] rgb = new float[3 * width * HEIGHT];
    for (int y = 0; y < HEIGHT; y++) {
      for (int i = 0; i < 3 * width; i++) {
        double noise = random.nextDouble();
        rgb[3 * width * y + i] =
            switch (y % 4) {
              case 0 -> 0.25f;
              case 1 -> 0;
              case 2 -> (float) noise;
              default -> (float) Math.pow(2, 30 * noise - 15);
            };
      }
    }
    return rgb;
  }

  private Path hdr(int width, double exposure) throws IOException {
    Path file = folder.resolve("picture.hdr");
    try (OutputStream out = Files.newOutputStream(file)) {
      RadianceWriter writer = new RadianceWriter(out, width, HEIGHT, exposure, List.of("a test"));
      for (int y = 0; y < HEIGHT; y++) {
        writer.row(picture(width), 3 * width * y);
      }
    }
    return file;
  }

  /**
   * A mantissa of 8 bits for the brightest channel, shared by all: off by at most 1/128 of it, with
   * the half step that a reader adds (Radiance) at most 1/256; widths below 8 have no runs.
   */
  @ParameterizedTest
  @ValueSource(ints = {3, 8, 127, 128, 129, 700})
  void radianceIsReadBack(int width) throws IOException {
    float[] rgb = picture(width);
    float[][] rows = SensorTap.radiance(hdr(width, 4));
    Cv.load();
    Mat mat =
        Imgcodecs.imread(
            folder.resolve("picture.hdr").toString(),
            Imgcodecs.IMREAD_ANYDEPTH | Imgcodecs.IMREAD_COLOR);
    assertEquals(HEIGHT, mat.rows());
    assertEquals(width, mat.cols());
    float[] bgr = new float[rgb.length];
    mat.get(0, 0, bgr);
    for (int i = 0; i < rgb.length; i++) {
      int pixel = i - i % 3;
      double most = Math.max(rgb[pixel], Math.max(rgb[pixel + 1], rgb[pixel + 2]));
      double ours = 4 * rows[i / 3 / width][i % (3 * width)];
      assertEquals(rgb[i], ours, most / 256 * 1.0001);
      assertEquals(rgb[i], bgr[pixel + 2 - i % 3], most / 128 * 1.0001);
    }
  }

  @Test
  void radianceOfRunsIsSmall() throws IOException {
    long flat = 4L * 700 * HEIGHT;
    long written = Files.size(hdr(700, 1));
    assertTrue(written < 0.75 * flat, written + " of " + flat);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 3, 700, 8000})
  void tiffIsReadBackToTheBit(int width) throws IOException {
    float[] rgb = picture(width);
    Path file = folder.resolve("picture.tif");
    try (OutputStream out = Files.newOutputStream(file)) {
      FloatTiffWriter writer = new FloatTiffWriter(out, width, HEIGHT, "a test");
      for (int y = 0; y < HEIGHT; y++) {
        writer.row(rgb, 3 * width * y);
      }
    }
    Cv.load();
    Mat mat = Imgcodecs.imread(file.toString(), Imgcodecs.IMREAD_UNCHANGED);
    assertEquals(CvType.CV_32FC3, mat.type());
    float[] bgr = new float[rgb.length];
    mat.get(0, 0, bgr);
    float[] back = new float[rgb.length];
    for (int i = 0; i < rgb.length; i++) {
      back[i - i % 3 + 2 - i % 3] = bgr[i];
    }
    assertArrayEquals(rgb, back);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 300, 9000})
  void mapsAreReadBack(int width) throws IOException {
    Random random = new Random(width);
    byte[] colours = new byte[width * HEIGHT];
    int[] palette = new int[200];
    for (int i = 0; i < palette.length; i++) {
      palette[i] = random.nextInt(1 << 24);
    }
    for (int i = 0; i < colours.length; i++) {
      colours[i] = (byte) random.nextInt(palette.length);
    }
    Path file = folder.resolve("map.png");
    try (OutputStream out = Files.newOutputStream(file)) {
      PalettePng png = new PalettePng(out, width, HEIGHT, palette, "what the colours mean");
      for (int y = 0; y < HEIGHT; y++) {
        png.row(colours, width * y);
      }
      png.end();
    }
    BufferedImage image = ImageIO.read(file.toFile());
    for (int i = 0; i < colours.length; i++) {
      assertEquals(palette[colours[i] & 0xff], image.getRGB(i % width, i / width) & 0xffffff);
    }
  }

  /** A legend's words can be read off it: every letter that it uses has points. */
  @Test
  void legendsDrawTheirWords() {
    Legend legend = ProofMaps.snrLegend(840, 3);
    assertTrue(legend.text().contains("clipped in every frame"));
    byte[] row = new byte[840];
    int ink = 0;
    for (int y = 0; y < legend.height(); y++) {
      legend.row(y, row);
      for (byte colour : row) {
        ink += colour == 9 ? 1 : 0;
      }
    }
    assertTrue(ink > 2000, "points " + ink);
  }
}
