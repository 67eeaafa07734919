package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Detail of drawn pictures: hard edges, the same in other light, blurred, and none at all. */
class DetailTest {
  private static final int WIDTH = 256;
  private static final int HEIGHT = 192;

  /** Light between a dark and a bright level in squares of 16 pixels, blurred by so many boxes. */
  private static double[][] squares(double dark, double bright, int blur) {
    double[][] light = new double[HEIGHT][WIDTH];
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        // Half of the picture is plain sky.
        boolean lit = y < HEIGHT / 2 || ((x / 16 + y / 16) & 1) == 0;
        light[y][x] = lit ? bright : dark;
      }
    }
    double[][] blurred = light;
    for (int i = 0; i < blur; i++) {
      blurred = blurred(blurred);
    }
    return blurred;
  }

  private static double[][] blurred(double[][] light) {
    double[][] out = new double[HEIGHT][WIDTH];
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        double sum = 0;
        for (int dy = -1; dy <= 1; dy++) {
          for (int dx = -1; dx <= 1; dx++) {
            int row = Math.max(0, Math.min(HEIGHT - 1, y + dy));
            sum += light[row][Math.max(0, Math.min(WIDTH - 1, x + dx))];
          }
        }
        out[y][x] = sum / 9;
      }
    }
    return out;
  }

  private static Optional<Detail> detail(double[][] light, double noise) {
    Random random = new Random(1);
    LightMeter meter = new LightMeter(WIDTH, HEIGHT, FrameSource.FULL, ColourSpace.SRGB);
    float[] cells = new float[WIDTH * HEIGHT];
    byte[] flags = new byte[WIDTH];
    for (int y = 0; y < HEIGHT; y++) {
      double[] row = new double[WIDTH];
      for (int x = 0; x < WIDTH; x++) {
        row[x] = light[y][x] * (1 + noise * random.nextGaussian());
        cells[y * WIDTH + x] = (float) row[x];
      }
      meter.row(row, 1, flags);
    }
    return Detail.of(meter.measure().regions(), BlockGrid.of(cells, WIDTH, HEIGHT, 1));
  }

  private static double sharpness(double[][] light) {
    return detail(light, 0).orElseThrow().sharpness();
  }

  @Test
  void itIsTheSameInMoreLight() {
    Detail night = detail(squares(0.001, 0.004, 0), 0).orElseThrow();
    Detail day = detail(squares(0.1, 0.4, 0), 0).orElseThrow();
    assertEquals(night.fine(), day.fine(), 0.01);
    assertEquals(night.coarse(), day.coarse(), 0.01);
  }

  @Test
  void flatterLightIsNoBlur() {
    assertEquals(sharpness(squares(0.1, 0.4, 0)), sharpness(squares(0.2, 0.4, 0)), 0.8);
  }

  @Test
  void blurTakesTheFineDetailFirstAndMoreOfItTheCoarseToo() {
    Detail sharp = detail(squares(0.1, 0.4, 0), 0).orElseThrow();
    Detail soft = detail(squares(0.1, 0.4, 4), 0).orElseThrow();
    Detail softer = detail(squares(0.1, 0.4, 12), 0).orElseThrow();
    assertTrue(soft.sharpness() < sharp.sharpness() - 1, sharp + " and " + soft);
    assertTrue(softer.sharpness() < sharp.sharpness() - 1, sharp + " and " + softer);
    assertTrue(soft.fine() < sharp.fine() - 1.5, sharp + " and " + soft);
    assertTrue(softer.fine() < soft.fine() - 0.5, soft + " and " + softer);
    assertTrue(softer.coarse() < soft.coarse() - 0.3, soft + " and " + softer);
  }

  /** Noise of a high ISO is no detail. */
  @Test
  void noiseHardlyCounts() {
    double quiet = sharpness(squares(0.1, 0.4, 2));
    double noisy = detail(squares(0.1, 0.4, 2), 0.05).orElseThrow().sharpness();
    assertEquals(quiet, noisy, 0.3);
  }

  @Test
  void aPlainPictureTellsNothing() {
    assertEquals(Optional.empty(), detail(squares(0.4, 0.4, 0), 0));
    assertEquals(Optional.empty(), detail(squares(0.4, 0.4, 0), 0.02));
  }

  @Test
  void whatWasNotToldApartTellsNothing() {
    assertEquals(
        Optional.empty(), Detail.of(SharpnessGrid.NONE, BlockGrid.of(new float[64], 8, 8, 1)));
  }
}
