package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MosaicMeterTest {
  @ParameterizedTest
  @CsvSource({"RGGB, 8, 6", "BGGR, 9, 7", "GRBG, 2, 2", "GBRG, 40, 33"})
  void equalsABruteForceCount(String colours, int width, int height) {
    List<Double> black = List.of(256.0, 255.5, 260.0, 250.25);
    int white = 15_000;
    Mosaic mosaic = new Mosaic(colours, black, white, 14);
    Random random = new Random(width);
    int[][] sites = new int[height][width];
    for (int[] row : sites) {
      for (int x = 0; x < width; x++) {
        row[x] = (int) Math.min(16_383, 240 + Math.exp(random.nextDouble() * 10.3));
      }
    }
    MosaicMeter meter = new MosaicMeter(width, height, mosaic);
    for (int y = 0; y + 1 < height; y += 2) {
      meter.blockRow(codes(sites[y]), codes(sites[y + 1]), new byte[width / 2]);
    }
    FrameMeasure got = meter.measure();

    LogHistogram.Builder red = new LogHistogram.Builder();
    LogHistogram.Builder green = new LogHistogram.Builder();
    LogHistogram.Builder luminance = new LogHistogram.Builder();
    long[] clipped = new long[4];
    long[] crushed = new long[4];
    double[][] light = new double[height / 2][width / 2];
    for (int y = 0; y + 1 < height; y += 2) {
      for (int x = 0; x + 1 < width; x += 2) {
        double[] sum = new double[3];
        int[] clips = new int[3];
        int[] lit = new int[3];
        for (int site = 0; site < 4; site++) {
          int code = sites[y + site / 2][x + site % 2];
          int channel = "RGB".indexOf(colours.charAt(site));
          double value = (code - black.get(site)) / (white - black.get(site));
          sum[channel] += Math.max(0, Math.min(1, value)) / (channel == 1 ? 2 : 1);
          clips[channel] += code >= white ? 1 : 0;
          lit[channel] += code > black.get(site) ? 1 : 0;
        }
        for (int c = 0; c < 3; c++) {
          clipped[c] += clips[c] > 0 ? 1 : 0;
          crushed[c] += lit[c] == 0 ? 1 : 0;
        }
        clipped[3] += clips[0] + clips[1] + clips[2] > 0 ? 1 : 0;
        crushed[3] += lit[0] + lit[1] + lit[2] == 0 ? 1 : 0;
        red.add(sum[0], 1);
        green.add(clips[1] > 0 ? 1 : sum[1], 1);
        light[y / 2][x / 2] = Luminance.of(sum[0], sum[1], sum[2]);
        luminance.add(light[y / 2][x / 2], 1);
      }
    }
    long blocks = (long) (width / 2) * (height / 2);
    assertEquals(blocks, got.pixels());
    assertEquals(FrameSource.RAW, got.source());
    assertEquals(width, got.width());
    assertEquals(height, got.height());
    assertEquals(new PixelCounts(clipped[0], clipped[1], clipped[2], clipped[3]), got.clipped());
    assertEquals(new PixelCounts(crushed[0], crushed[1], crushed[2], crushed[3]), got.crushed());
    assertEquals(red.build(), got.red());
    assertEquals(green.build(), got.green());
    assertEquals(luminance.build(), got.luminance());
    assertEquals(clipped[1], got.green().count(LogHistogram.SATURATED_BIN));
    assertEquals(clipped[3], got.brightest().count(LogHistogram.SATURATED_BIN));
    assertEquals(blocks, got.brightest().total());
    assertEquals(PixelMeterTest.sharpness(light), got.sharpness(), 1e-9);
  }

  private static short[] codes(int[] row) {
    short[] codes = new short[row.length];
    for (int x = 0; x < row.length; x++) {
      codes[x] = (short) row[x];
    }
    return codes;
  }

  @Test
  void oneClippedGreenSiteClipsTheBlock() {
    Mosaic mosaic = new Mosaic("RGGB", List.of(0.0, 0.0, 0.0, 0.0), 65_535, 16);
    MosaicMeter meter = new MosaicMeter(4, 2, mosaic);
    byte[] flags = new byte[2];
    meter.blockRow(new short[] {10, 10, 0, 0}, new short[] {-1, 10, 0, 0}, flags);
    FrameMeasure measure = meter.measure();
    assertEquals(new PixelCounts(0, 1, 0, 1), measure.clipped());
    assertEquals(new PixelCounts(1, 1, 1, 1), measure.crushed());
    assertEquals(PixelFlags.CLIPPED, flags[0]);
    assertEquals(PixelFlags.CRUSHED, flags[1]);
  }

  @ParameterizedTest
  @CsvSource({
    "RGGR, 0, 100, 14",
    "RGB, 0, 100, 14",
    "RGGB, 100, 100, 14",
    "RGGB, NaN, 100, 14",
    "RGGB, 0, 16384, 14",
    "RGGB, 0, 100, 17"
  })
  void refusesAMosaicThatIsNone(String colours, double black, double white, int bits) {
    List<Double> levels = List.of(black, black, black, black);
    assertThrows(IllegalArgumentException.class, () -> new Mosaic(colours, levels, white, bits));
  }
}
