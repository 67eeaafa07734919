package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Drawn landscapes under clouds, with noise, moved by some pixels or not. */
class RegistrationTest {
  private static final int WIDTH = 960;
  private static final int HEIGHT = 640;

  /** Blocks of a picture of that size. */
  private static final int SIDE = 4;

  /** What the camera sees, and how it stands. */
  private record View(double right, double down, double wind, double light, long seed) {}

  private static double smooth(double x, double y, int salt) {
    int column = (int) Math.floor(x);
    int line = (int) Math.floor(y);
    double fx = x - column;
    double fy = y - line;
    double sx = fx * fx * (3 - 2 * fx);
    double sy = fy * fy * (3 - 2 * fy);
    double upper = at(column, line, salt) * (1 - sx) + at(column + 1, line, salt) * sx;
    double lower = at(column, line + 1, salt) * (1 - sx) + at(column + 1, line + 1, salt) * sx;
    return upper * (1 - sy) + lower * sy;
  }

  private static double at(int x, int y, int salt) {
    long mixed = x * 0x9E3779B97F4A7C15L + y * 0xC2B2AE3D27D4EB4FL + salt * 0x165667B19E3779F9L;
    mixed = (mixed ^ mixed >>> 29) * 0xBF58476D1CE4E5B9L;
    return ((mixed ^ mixed >>> 32) & 0xffff) / 65536.0;
  }

  /** The sky with clouds in the upper half, land with fields and trees below. */
  private static double light(double x, double y, double wind) {
    if (y < HEIGHT * 0.5 + 30 * smooth(x / 70, 0, 3)) {
      double cloud = smooth((x + wind) / 60, y / 40, 1) + 0.5 * smooth((x + wind) / 25, y / 20, 2);
      return 0.5 + 0.4 * cloud;
    }
    return 0.05 + 0.2 * smooth(x / 30, y / 25, 4) * smooth(x / 9, y / 7, 5);
  }

  private static BlockGrid grid(View view) {
    Random random = new Random(view.seed);
    float[] cells = new float[WIDTH * HEIGHT];
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        double light = view.light * light(x - view.right, y - view.down, view.wind);
        // The shot noise of a frame at a middling ISO.
        double electrons = 4000 * light;
        double seen = electrons + Math.sqrt(electrons + 9) * random.nextGaussian();
        cells[y * WIDTH + x] = (float) (seen / 4000);
      }
    }
    return BlockGrid.of(cells, WIDTH, HEIGHT, 1);
  }

  private static Optional<Steadiness.Shift> shift(View now, View before) {
    return Registration.of(grid(now), grid(before));
  }

  @ParameterizedTest
  @CsvSource({"6, 0", "0, -9", "-14, 10", "40, 25", "150, -60"})
  void findsHowFarThePictureHasMoved(double right, double down) {
    Steadiness.Shift shift =
        shift(new View(right, down, 0, 0.5, 1), new View(0, 0, 0, 0.5, 2)).orElseThrow();
    assertEquals(right, shift.right() * WIDTH, SIDE * 0.75, shift.toString());
    assertEquals(down, shift.down() * HEIGHT, SIDE * 0.75, shift.toString());
  }

  @Test
  void whatStandsStandsInAnyLight() {
    for (double light : new double[] {0.01, 0.05, 0.2, 1}) {
      assertEquals(
          Optional.of(Steadiness.Shift.NONE),
          shift(new View(0, 0, 0, light, 3), new View(0, 0, 0, 0.4, 4)),
          "light " + light);
    }
  }

  @ParameterizedTest
  @CsvSource({"4", "12", "30", "80"})
  void cloudsMoveAndTheLandStays(double wind) {
    assertEquals(
        Optional.of(Steadiness.Shift.NONE),
        shift(new View(0, 0, wind, 0.5, 5), new View(0, 0, 0, 0.5, 6)));
  }

  @Test
  void aMoveUnderMovingCloudsIsFound() {
    Optional<Steadiness.Shift> shift = shift(new View(12, 8, 3, 0.5, 7), new View(0, 0, 0, 0.5, 8));
    assertTrue(shift.filter(it -> !it.isNone()).isPresent(), shift.toString());
  }

  /** Noise alone neither stands nor moves. */
  @Test
  void theDarkTellsNothing() {
    assertEquals(
        Optional.empty(), shift(new View(0, 0, 0, 0.00002, 9), new View(0, 0, 0, 0.00002, 10)));
  }

  @Test
  void aSmallPictureTellsNothing() {
    BlockGrid small = BlockGrid.of(new float[48 * 32], 48, 32, 1);
    assertEquals(Optional.empty(), Registration.of(small, small));
  }
}
