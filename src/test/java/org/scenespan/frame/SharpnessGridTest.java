package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SharpnessGridTest {
  private static final List<Double> BLACK = List.of(64.0, 64.0, 64.0, 64.0);

  /** Codes that are rougher to the right and below. */
  private static int[][] codes(int width, int height) {
    Random random = new Random(width * 31L + height);
    int[][] codes = new int[height][width];
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        codes[y][x] = 90 + random.nextInt(10 + 100 * (x + y) / (width + height));
      }
    }
    return codes;
  }

  /** Each part worked out pixel by pixel from the definition. */
  private static void check(double[][] light, SharpnessGrid got) {
    int height = light.length;
    int width = light[0].length;
    int pairs = (width + 1) / 2;
    assertEquals(Math.min(16, pairs), got.columns());
    assertEquals(Math.min(16, height), got.lines());
    for (int line = 0; line < got.lines(); line++) {
      int top = line * height / got.lines();
      int lower = (line + 1) * height / got.lines();
      for (int column = 0; column < got.columns(); column++) {
        int left = 2 * (column * pairs / got.columns());
        int right = Math.min(width, 2 * ((column + 1) * pairs / got.columns()));
        double squares = 0;
        double sum = 0;
        int count = 0;
        for (int y = top; y < lower; y++) {
          for (int x = left; x < right; x++) {
            sum += light[y][x];
            if (x > 0) {
              squares += Math.pow(light[y][x] - light[y][x - 1], 2);
              count++;
            }
            if (y > 0) {
              squares += Math.pow(light[y][x] - light[y - 1][x], 2);
              count++;
            }
          }
        }
        double mean = sum / ((lower - top) * (right - left));
        double wanted = count == 0 ? 0 : squares / count / (mean * mean);
        assertEquals(wanted, got.sharpness(column, line), 1e-5 * wanted, column + ", " + line);
      }
    }
  }

  @ParameterizedTest
  @CsvSource({"1, 1", "7, 5", "64, 48", "33, 200", "321, 17"})
  void aPictureOfEightBits(int width, int height) {
    ToneResponse srgb = ToneResponse.srgb(8);
    PixelMeter meter = new PixelMeter(width, height, FrameSource.FULL, srgb);
    ByteRows rows = new ByteRows(meter, width);
    int[][] codes = codes(width, height);
    double[][] light = new double[height][width];
    for (int y = 0; y < height; y++) {
      byte[] row = new byte[width];
      for (int x = 0; x < width; x++) {
        row[x] = (byte) codes[y][x];
        light[y][x] = srgb.linear(codes[y][x]);
      }
      rows.grey(row);
    }
    check(light, meter.measure().regions());
  }

  @ParameterizedTest
  @CsvSource({"1, 1", "7, 5", "64, 48", "33, 200"})
  void aPictureOfLight(int width, int height) {
    LightMeter meter = new LightMeter(width, height, FrameSource.FULL, ColourSpace.SRGB);
    int[][] codes = codes(width, height);
    double[][] light = new double[height][width];
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        light[y][x] = codes[y][x] / 255.0;
      }
      meter.row(light[y], 1, new byte[width]);
    }
    check(light, meter.measure().regions());
  }

  @ParameterizedTest
  @CsvSource({"64, 48, 24", "64, 48, 14", "66, 203, 2", "14, 40, 38", "64, 48, 48"})
  void aMosaicInTwoParts(int width, int height, int split) {
    Mosaic mosaic = new Mosaic("RGGB", BLACK, 1000, 16);
    int[][] codes = codes(width, height);
    MosaicMeter upper = new MosaicMeter(width, split, mosaic, 0, height);
    List<MosaicMeter> parts =
        split == height
            ? List.of(upper)
            : List.of(upper, new MosaicMeter(width, height - split, mosaic, split, height));
    double[][] light = new double[height / 2][width / 2];
    for (int y = 0; y + 1 < height; y += 2) {
      short[][] rows = new short[2][width];
      for (int x = 0; x < width; x++) {
        rows[0][x] = (short) codes[y][x];
        rows[1][x] = (short) codes[y + 1][x];
      }
      parts.get(y < split ? 0 : 1).blockRow(rows[0], rows[1], new byte[width / 2]);
      for (int x = 0; x + 1 < width; x += 2) {
        light[y / 2][x / 2] =
            Luminance.of(
                of(codes[y][x]),
                (of(codes[y][x + 1]) + of(codes[y + 1][x])) / 2,
                of(codes[y + 1][x + 1]));
      }
    }
    check(light, MosaicMeter.measure(parts).regions());
  }

  private static double of(int code) {
    return (code - 64) / 936.0;
  }

  /** Columns 1, 2, 3 above 4, 5, 6. */
  private static SharpnessGrid six() {
    return new SharpnessGrid(3, 2, new float[] {1, 2, 3, 4, 5, 6}, new float[] {1, 1, 1, 1, 1, 1});
  }

  /** Where the row 0 and the column 0 are: CIPA DC-008, Orientation. */
  @ParameterizedTest
  @CsvSource({
    "1, 123456",
    "2, 321654",
    "3, 654321",
    "4, 456123",
    "5, 142536",
    "6, 415263",
    "7, 635241",
    "8, 362514",
    "9, 123456"
  })
  void turnsWithThePicture(int orientation, String wanted) {
    SharpnessGrid upright = six().upright(orientation);
    StringBuilder got = new StringBuilder();
    for (int line = 0; line < upright.lines(); line++) {
      for (int column = 0; column < upright.columns(); column++) {
        got.append((int) upright.sharpness(column, line));
      }
    }
    assertEquals(wanted, got.toString());
    assertEquals(orientation >= 5 && orientation <= 8 ? 2 : 3, upright.columns());
  }

  @ParameterizedTest
  @CsvSource({
    "0, 0, 1, 1, 3.5",
    "0, 0, 0.3333, 0.5, 1",
    "0.3334, 0.5, 0.3332, 0.5, 5",
    "0.5, 0, 0.3333333333333333, 0.25, 2.5",
  })
  void weighsWhatAPatchCovers(double left, double top, double width, double height, double wanted) {
    assertEquals(wanted, six().within(new Patch(left, top, width, height)), 1e-3);
  }

  @Test
  void aBlackPartHasNone() {
    SharpnessGrid grid = new SharpnessGrid(1, 1, new float[] {0}, new float[] {0});
    assertEquals(0, grid.sharpness(0, 0));
    assertEquals(0, grid.within(Patch.WHOLE));
    assertTrue(SharpnessGrid.NONE.isNone());
  }
}
