package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PixelMeterTest {
  private static final ToneResponse SRGB = ToneResponse.srgb(8);

  @ParameterizedTest
  @CsvSource({"1, 1, 1", "7, 5, 2", "64, 48, 3", "3, 200, 4", "256, 1, 5"})
  void equalsABruteForceCount(int width, int height, int seed) {
    int[][][] picture = randomPicture(width, height, seed);
    PixelMeter meter = new PixelMeter(width, height, FrameSource.FULL, SRGB);
    ByteRows rows = new ByteRows(meter, width);
    byte[][] flags = new byte[height][];
    for (int y = 0; y < height; y++) {
      byte[] row = new byte[width * 3];
      for (int x = 0; x < width; x++) {
        for (int c = 0; c < 3; c++) {
          row[x * 3 + c] = (byte) picture[y][x][c];
        }
      }
      flags[y] = rows.colour(row);
    }
    FrameMeasure got = meter.measure();
    LogHistogram.Builder[] channels = new LogHistogram.Builder[5];
    for (int i = 0; i < 5; i++) {
      channels[i] = new LogHistogram.Builder();
    }
    long[] clipped = new long[4];
    long[] crushed = new long[4];
    double[][] light = new double[height][width];
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        int[] p = picture[y][x];
        double most = 0;
        for (int c = 0; c < 3; c++) {
          channels[c].add(SRGB.linear(p[c]), 1);
          most = Math.max(most, SRGB.linear(p[c]));
          clipped[c] += p[c] == 255 ? 1 : 0;
          crushed[c] += p[c] == 0 ? 1 : 0;
        }
        boolean any = p[0] == 255 || p[1] == 255 || p[2] == 255;
        boolean all = p[0] == 0 && p[1] == 0 && p[2] == 0;
        clipped[3] += any ? 1 : 0;
        crushed[3] += all ? 1 : 0;
        assertEquals(any ? PixelFlags.CLIPPED : all ? PixelFlags.CRUSHED : 0, flags[y][x]);
        light[y][x] = Luminance.of(SRGB.linear(p[0]), SRGB.linear(p[1]), SRGB.linear(p[2]));
        channels[3].add(light[y][x], 1);
        channels[4].add(most, 1);
      }
    }
    assertEquals(channels[0].build(), got.red());
    assertEquals(channels[1].build(), got.green());
    assertEquals(channels[2].build(), got.blue());
    assertEquals(channels[3].build(), got.luminance());
    assertEquals(channels[4].build(), got.brightest());
    assertEquals(new PixelCounts(clipped[0], clipped[1], clipped[2], clipped[3]), got.clipped());
    assertEquals(new PixelCounts(crushed[0], crushed[1], crushed[2], crushed[3]), got.crushed());
    assertEquals((long) width * height, got.pixels());
    assertEquals(got.pixels(), got.luminance().total());
    assertEquals(got.clipped().combined(), got.brightest().count(LogHistogram.SATURATED_BIN));
    assertEquals(sharpness(light), got.sharpness(), 1e-9 * (1 + got.sharpness()));
  }

  static double sharpness(double[][] light) {
    double squares = 0;
    double sum = 0;
    long pairs = 0;
    int height = light.length;
    int width = light[0].length;
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        sum += light[y][x];
        if (x > 0) {
          squares += Math.pow(light[y][x] - light[y][x - 1], 2);
          pairs++;
        }
        if (y > 0) {
          squares += Math.pow(light[y][x] - light[y - 1][x], 2);
          pairs++;
        }
      }
    }
    double mean = sum / ((double) width * height);
    return pairs == 0 || mean == 0 ? 0 : squares / pairs / (mean * mean);
  }

  /** Dark, bright, clipped and crushed pixels in clumps, as a scene has them. */
  private static int[][][] randomPicture(int width, int height, int seed) {
    Random random = new Random(seed);
    int[][][] picture = new int[height][width][3];
    for (int[][] row : picture) {
      for (int[] pixel : row) {
        int base = (int) (random.nextDouble() * random.nextDouble() * 320) - 10;
        for (int c = 0; c < 3; c++) {
          pixel[c] = Math.max(0, Math.min(255, base + random.nextInt(9)));
        }
      }
    }
    return picture;
  }

  @Test
  void greyIsColourWithThreeEqualChannels() {
    PixelMeter grey = new PixelMeter(256, 2, FrameSource.FULL, SRGB);
    PixelMeter colour = new PixelMeter(256, 2, FrameSource.FULL, SRGB);
    ByteRows greyRows = new ByteRows(grey, 256);
    ByteRows colourRows = new ByteRows(colour, 256);
    byte[] greyRow = new byte[256];
    byte[] colourRow = new byte[768];
    for (int i = 0; i < 256; i++) {
      greyRow[i] = (byte) i;
      colourRow[i * 3] = (byte) i;
      colourRow[i * 3 + 1] = (byte) i;
      colourRow[i * 3 + 2] = (byte) i;
    }
    for (int y = 0; y < 2; y++) {
      assertArrayEquals(colourRows.colour(colourRow), greyRows.grey(greyRow));
    }
    FrameMeasure one = grey.measure();
    FrameMeasure other = colour.measure();
    assertEquals(other.luminance(), one.luminance());
    assertEquals(other.red(), one.luminance(), "grey has the luminance of its channels");
    assertEquals(other.clipped(), one.clipped());
    assertEquals(other.sharpness(), one.sharpness(), 1e-12);
  }

  /** What is summed up over a band must not depend on who takes it. */
  @Test
  void aBandIsCountedByOneTally() {
    PixelMeter meter = new PixelMeter(3, 16, FrameSource.FULL, SRGB);
    int[] pixels = new int[new RowOrder(3).length()];
    PixelTally upper = meter.tally();
    for (int row = 0; row < 4; row++) {
      upper.row(row, pixels);
    }
    PixelTally other = meter.tally();
    other.above(3, pixels);
    assertThrows(IllegalStateException.class, () -> other.row(4, pixels));
    assertThrows(IllegalStateException.class, () -> other.row(8, pixels));
    other.above(7, pixels);
    other.row(8, pixels);
    assertThrows(IllegalStateException.class, () -> other.row(10, pixels));
  }

  @Test
  void everyRowCountsOnce() {
    PixelMeter meter = new PixelMeter(2, 1, FrameSource.FULL, SRGB);
    assertThrows(IllegalStateException.class, meter::measure);
    ByteRows rows = new ByteRows(meter, 2);
    rows.grey(new byte[2]);
    assertEquals(0, meter.measure().sharpness(), "black has no sharpness");
    assertThrows(IllegalStateException.class, () -> rows.grey(new byte[2]));
    assertThrows(
        IllegalArgumentException.class, () -> new PixelMeter(0, 1, FrameSource.FULL, SRGB));
  }
}
