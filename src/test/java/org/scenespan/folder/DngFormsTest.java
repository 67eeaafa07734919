package org.scenespan.folder;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.ByteOrder;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.folder.codec.DamagedData;
import org.scenespan.folder.codec.LosslessJpeg;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.Mosaic;
import org.scenespan.frame.MosaicMeter;

/** One mosaic in every form of DNG that is read measures the same. */
class DngFormsTest {
  private static final List<Double> BLACK = List.of(512.0, 512.0, 512.0, 512.0);

  static FrameReading read(byte[] content) throws IOException, UnreadableFrame {
    try (FileSystem memory = Jimfs.newFileSystem(Configuration.unix())) {
      return new FrameReader().read(Files.write(memory.getPath("/a.dng"), content));
    }
  }

  private static FrameMeasure measured(int[][] sites, Mosaic mosaic) {
    MosaicMeter meter = new MosaicMeter(sites[0].length, sites.length, mosaic);
    for (int y = 0; y < meter.rows(); y++) {
      meter.blockRow(codes(sites[2 * y]), codes(sites[2 * y + 1]), new byte[meter.columns()]);
    }
    return meter.measure();
  }

  private static short[] codes(int[] row) {
    short[] codes = new short[row.length];
    for (int i = 0; i < row.length; i++) {
      codes[i] = (short) row[i];
    }
    return codes;
  }

  @ParameterizedTest
  @CsvSource({
    "1, 1, 0", "1, 2, 0", "1, 3, 0", "1, 4, 0", "1, 5, 0", "1, 6, 0", "1, 7, 0", "2, 1, 0",
    "2, 2, 0", "2, 3, 0", "2, 4, 0", "2, 5, 0", "2, 6, 0", "2, 7, 0", "3, 1, 0", "4, 1, 0",
    "4, 4, 0", "2, 1, 3", "1, 7, 2", "4, 6, 1"
  })
  void losslessJpegGivesBackEverySample(int components, int predictor, int restart)
      throws Exception {
    for (int precision : new int[] {2, 8, 12, 14, 16}) {
      int width = 37;
      int height = 11;
      Random random = new Random(predictor * 31L + precision);
      int[] samples = new int[width * height * components];
      Arrays.setAll(
          samples,
          i ->
              random.nextInt(4) == 0
                  ? random.nextInt(1 << precision)
                  : Math.min((1 << precision) - 1, i % 997));
      byte[] jpeg =
          new LosslessJpegWriter(samples, width, height, components, precision)
              .predictor(predictor)
              .restartEvery(restart)
              .bytes();
      LosslessJpeg read = LosslessJpeg.of(jpeg, jpeg.length);
      assertEquals(components, read.components());
      assertEquals(precision, read.precision());
      assertEquals(width, read.width());
      short[] got = new short[samples.length];
      read.decode(got);
      assertArrayEquals(codes(samples), got, precision + " bits");
      for (int cut : new int[] {2, jpeg.length / 2, jpeg.length - 12}) {
        byte[] part = Arrays.copyOf(jpeg, cut);
        assertThrows(
            DamagedData.class,
            () -> LosslessJpeg.of(part, part.length).decode(got),
            cut + " bytes");
      }
    }
  }

  /** Wide steps, so that long codes stand among short ones; an odd width ends with half a look. */
  @ParameterizedTest
  @CsvSource({"64, 9, 14", "37, 9, 14", "36, 20, 16", "2, 1, 12", "1, 3, 8"})
  void pairsAndTwinsAreTheSameSamples(int width, int height, int precision) throws Exception {
    Random random = new Random(width);
    byte[][] jpegs = new byte[2][];
    int[][] wanted = new int[2][width * height];
    for (int picture = 0; picture < 2; picture++) {
      int[] samples = new int[2 * width * height];
      Arrays.setAll(
          samples,
          i ->
              random.nextInt(9) == 0
                  ? random.nextInt(1 << precision)
                  : (1 << precision - 1) + random.nextInt(40));
      Arrays.setAll(wanted[picture], i -> samples[2 * i] | samples[2 * i + 1] << 16);
      jpegs[picture] = new LosslessJpegWriter(samples, width, height, 2, precision).bytes();
    }
    LosslessJpeg one = LosslessJpeg.of(jpegs[0], jpegs[0].length);
    LosslessJpeg other = LosslessJpeg.of(jpegs[1], jpegs[1].length);
    int[] got = new int[width * height];
    one.decodePairs(got, 0, width);
    assertArrayEquals(wanted[0], got);
    byte[] cut = Arrays.copyOf(jpegs[0], jpegs[0].length - 5);
    LosslessJpeg part = LosslessJpeg.of(cut, cut.length);
    assertThrows(DamagedData.class, () -> part.decodePairs(got, 0, width));
    assertEquals(width % 2 == 0, one.isTwin(other));
    if (one.isTwin(other)) {
      int[] both = new int[2 * width * height];
      one.decodePairs(other, both, 0, width, 2 * width);
      for (int y = 0; y < height; y++) {
        for (int picture = 0; picture < 2; picture++) {
          int from = (2 * y + picture) * width;
          assertArrayEquals(
              Arrays.copyOfRange(wanted[picture], y * width, (y + 1) * width),
              Arrays.copyOfRange(both, from, from + width));
        }
      }
      assertThrows(DamagedData.class, () -> other.decodePairs(part, both, 0, width, 2 * width));
      assertThrows(DamagedData.class, () -> part.decodePairs(other, both, 0, width, 2 * width));
    }
  }

  @Test
  void pointTransformShiftsBack() throws Exception {
    int[] samples = {8, 16, 24, 32, 40, 248, 0, 8};
    byte[] jpeg = new LosslessJpegWriter(samples, 4, 2, 1, 8).pointTransform(3).bytes();
    short[] got = new short[8];
    LosslessJpeg.of(jpeg, jpeg.length).decode(got);
    assertArrayEquals(codes(samples), got);
  }

  @ParameterizedTest
  @CsvSource({
    "tiled, 32, 1, 1", "tiled, 16, 2, 1", "tiled, 64, 2, 6", "tiled, 32, 4, 2", "strips, 7, 2, 1",
    "strips, 8, 1, 4", "strips, 100, 2, 7", "strips, 1, 2, 1", "plain, 16, 1, 1", "plain, 48, 1, 1"
  })
  void everyFormMeasuresTheSame(String form, int size, int components, int predictor)
      throws Exception {
    for (ByteOrder order : List.of(ByteOrder.BIG_ENDIAN, ByteOrder.LITTLE_ENDIAN)) {
      int[][] sites = Pictures.sites(92, 51, 16383, size);
      DngForms.Lossless lossless = new DngForms.Lossless(components, predictor, 0);
      TiffBytes dng =
          switch (form) {
            case "tiled" -> DngForms.tiled(order, sites, size, 14, lossless);
            case "strips" -> DngForms.strips(order, sites, size, 14, lossless);
            default -> DngForms.plainTiles(order, sites, size, 14);
          };
      Mosaic mosaic = new Mosaic("RGGB", BLACK, 16383, 14);
      FrameReading reading = read(dng.file());
      assertEquals(measured(sites, mosaic), reading.measure());
      assertEquals("sensor", reading.colour());
      assertEquals(List.of(), reading.notes());
      // An active area at odd places and rows across tiles.
      FrameMeasure area = read(dng.longs(50829, 3, 5, 48, 80).file()).measure();
      int[][] active = new int[45][];
      Arrays.setAll(active, y -> Arrays.copyOfRange(sites[y + 3], 5, 80));
      assertEquals(measured(active, mosaic), area);
    }
  }

  /** Over a million sites are measured in two halves by two threads. */
  @ParameterizedTest
  @CsvSource({
    "tiled, 128, 0, 2, 1",
    "tiled, 128, 3, 2, 1",
    "strips, 2000, 0, 2, 1",
    "strips, 2000, 3, 2, 1",
    "strips, 2000, 0, 1, 1",
    "strips, 2000, 3, 2, 6",
    "strips, 33, 1, 2, 1",
    "plain, 256, 1, 2, 1"
  })
  void halvesAddUp(String form, int size, int top, int components, int predictor) throws Exception {
    int[][] sites = Pictures.sites(1200, 1000, 16383, size);
    DngForms.Lossless lossless = new DngForms.Lossless(components, predictor, 0);
    TiffBytes dng =
        switch (form) {
          case "tiled" -> DngForms.tiled(ByteOrder.LITTLE_ENDIAN, sites, size, 14, lossless);
          case "strips" -> DngForms.strips(ByteOrder.LITTLE_ENDIAN, sites, size, 14, lossless);
          default -> DngForms.plainTiles(ByteOrder.LITTLE_ENDIAN, sites, size, 14);
        };
    int[][] active = Arrays.copyOfRange(sites, top, 1000);
    FrameMeasure wanted = measured(active, new Mosaic("RGGB", BLACK, 16383, 14));
    FrameMeasure got = read(dng.longs(50829, top, 0, 1000, 1200).file()).measure();
    assertEquals(wanted.luminance(), got.luminance());
    assertEquals(wanted.brightest(), got.brightest());
    assertEquals(wanted.green(), got.green());
    assertEquals(wanted.clipped(), got.clipped());
    assertEquals(wanted.crushed(), got.crushed());
    assertEquals(wanted.height(), got.height());
    assertEquals(wanted.sharpness(), got.sharpness(), wanted.sharpness() * 1e-9);
  }

  /** Whoever measures what another thread unpacks must not wait for rows that never come. */
  @Test
  void aSingleStripThatEndsTooEarlyIsRefused() throws Exception {
    int[][] sites = Pictures.sites(1200, 1000, 16383, 7);
    DngForms.Lossless lossless = new DngForms.Lossless(2, 1, 0);
    byte[] dng = DngForms.strips(ByteOrder.LITTLE_ENDIAN, sites, 2000, 14, lossless).file();
    assertEquals(1200 * 1000 / 4, read(dng).measure().pixels());
    dng[dng.length / 2] = (byte) 0xff;
    dng[dng.length / 2 + 1] = (byte) 0xd9;
    UnreadableFrame refusal = assertThrows(UnreadableFrame.class, () -> read(dng));
    assertTrue(refusal.getMessage().contains("ends too early"), refusal.getMessage());
  }

  @Test
  void aLinearizationTableComesBeforeTheLevels() throws Exception {
    int[][] stored = new int[8][12];
    int[][] linear = new int[8][12];
    int[] table = new int[200];
    Arrays.setAll(table, i -> i * i);
    for (int y = 0; y < 8; y++) {
      for (int x = 0; x < 12; x++) {
        stored[y][x] = y * 12 + x + 110;
        linear[y][x] = table[Math.min(199, stored[y][x])];
      }
    }
    byte[] dng =
        Pictures.dng(ByteOrder.BIG_ENDIAN, stored)
            .shorts(50712, table)
            .without(50717)
            .shorts(50714, 100)
            .file();
    Mosaic mosaic = new Mosaic("RGGB", List.of(100.0, 100.0, 100.0, 100.0), 199 * 199, 16);
    assertEquals(measured(linear, mosaic), read(dng).measure());
  }

  /** Black of a site: the pattern's, and its column's and its row's part (DNG 1.6, chapter 5). */
  @Test
  void blackLevelsByColumnAndRow() throws Exception {
    int[][] sites = Pictures.sites(6, 4, 1000, 9);
    sites[0][0] = 1000;
    byte[] dng =
        Pictures.dng(ByteOrder.LITTLE_ENDIAN, sites)
            .shorts(50713, 1, 3)
            .shorts(50714, 10, 20, 30)
            .longs(50717, 1000)
            .signedRationals(50715, 0, 1, 1, 2, 2, 1, -3, 1, 4, 1, 5, 1)
            .signedRationals(50716, 0, 1, 7, 1, -2, 1, 1, 4)
            .file();
    double[] byColumn = {0, 0.5, 2, -3, 4, 5};
    double[] byRow = {0, 7, -2, 0.25};
    double[] pattern = {10, 20, 30};
    MosaicMeter meter = new MosaicMeter(6, 4, new Mosaic("RGGB", BLACK, 1000, 16));
    for (int y = 0; y < 4; y += 2) {
      double[][] light = new double[2][6];
      for (int i = 0; i < 12; i++) {
        int x = i % 6;
        int line = y + i / 6;
        double black = pattern[x % 3] + byColumn[x] + byRow[line];
        light[i / 6][x] = (sites[line][x] - black) / (1000 - black);
      }
      meter.lightRow(light[0], light[1], new byte[3]);
    }
    assertEquals(meter.measure(), read(dng).measure());
  }

  @ParameterizedTest
  @CsvSource({"1, 1", "7, 1", "1, 2"})
  void linearDngWithThreeChannels(int compression, int planar) throws Exception {
    int width = 20;
    int height = 9;
    int[] samples = new int[width * height * 3];
    Random random = new Random(4);
    Arrays.setAll(samples, i -> random.nextInt(4096));
    samples[0] = 4000;
    samples[1] = 4095;
    byte[] data;
    if (compression == 7) {
      data = new LosslessJpegWriter(samples, width, height, 3, 12).bytes();
    } else {
      int[][] rows = new int[1][samples.length];
      for (int i = 0; i < samples.length; i++) {
        int pixel = i / 3;
        rows[0][planar == 2 ? i % 3 * width * height + pixel : i] = samples[i];
      }
      data = Pictures.packed(rows, 16, ByteOrder.BIG_ENDIAN);
    }
    TiffBytes dng =
        new TiffBytes(ByteOrder.BIG_ENDIAN)
            .longs(256, width)
            .longs(257, height)
            .shorts(258, 16, 16, 16)
            .shorts(259, compression)
            .shorts(262, 34892)
            .shorts(277, 3)
            .shorts(284, planar)
            .longs(278, height)
            .bytes(50706, 1, 4, 0, 0)
            .shorts(50714, 100, 200, 300)
            .shorts(50717, 4000, 4001, 4002);
    if (planar == 2) {
      List<byte[]> planes =
          List.of(
              Arrays.copyOfRange(data, 0, 360),
              Arrays.copyOfRange(data, 360, 720),
              Arrays.copyOfRange(data, 720, 1080));
      dng = DngForms.withPieces(dng, planes, 273, 279, 1);
    } else {
      dng.data(273, data).longs(279, data.length);
    }
    FrameReading reading = read(dng.file());
    assertEquals(FrameSource.RAW, reading.measure().source());
    int red = 0;
    int dark = 0;
    for (int i = 0; i < samples.length; i += 3) {
      red += samples[i] >= 4000 ? 1 : 0;
      dark += samples[i] <= 100 && samples[i + 1] <= 200 && samples[i + 2] <= 300 ? 1 : 0;
    }
    assertEquals(red, reading.measure().clipped().red());
    assertEquals(dark, reading.measure().crushed().combined());
    assertTrue(red > 1, "some are clipped");
  }
}
