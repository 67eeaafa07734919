package org.scenespan.frame;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Optional;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.light.Iso;

class ComparisonTest {
  private static final int WIDTH = 320;
  private static final int HEIGHT = 200;
  private static final int PIXELS = 16;
  private static final Iso ISO = Iso.EV_BASE;

  /**
   * A frame of a ramp over ten stops with texture, by the sensor's noise.
   *
   * @param stops by which this frame is brighter
   * @param patch the share of the columns whose light is doubled: what has moved
   */
  private static BlockGrid frame(
      double stops, double patch, long seed, DoubleUnaryOperator tone, boolean noisy) {
    SplittableRandom random = new SplittableRandom(seed);
    NoiseModel noise = NoiseModel.TYPICAL;
    double well = noise.saturation(ISO);
    float[] cells = new float[WIDTH * HEIGHT];
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        double texture = 1 + 0.4 * ((x * 31 + y * 17) % 7) / 7;
        double light = Math.pow(2, -10 + 9.0 * y / HEIGHT + stops) * texture;
        double moved = x >= 100 && x < 100 + patch * WIDTH ? 2 * light : light;
        double sigma = Math.sqrt(moved * well + 10) / well / Math.sqrt(PIXELS);
        double seen = noisy ? moved + sigma * gaussian(random) : moved;
        cells[y * WIDTH + x] = seen >= 1 ? Float.NaN : (float) tone.applyAsDouble(seen);
      }
    }
    return BlockGrid.of(cells, WIDTH, HEIGHT, PIXELS);
  }

  private static double gaussian(SplittableRandom random) {
    double sum = -6;
    for (int i = 0; i < 12; i++) {
      sum += random.nextDouble();
    }
    return sum;
  }

  private static FrameChange change(BlockGrid now, BlockGrid before, BlockNoise.Depth depth) {
    return Comparison.of(now, ISO, before, ISO, "1.JPG", new BlockNoise(NoiseModel.TYPICAL, depth))
        .orElseThrow();
  }

  /** A still scene is still, and the measured ratio is the exposures' within 0.01 stop. */
  @ParameterizedTest
  @CsvSource({"0", "1", "-2", "4", "-6"})
  void tellsHowMuchBrighterAStillSceneIs(double stops) {
    FrameChange change =
        change(
            frame(stops, 0, 1, light -> light, true),
            frame(0, 0, 2, light -> light, true),
            BlockNoise.Depth.RAW);
    assertEquals(stops, change.ratio().value(), 0.01);
    assertEquals(0, change.moved().value());
    assertTrue(change.compared().value() > 0.2, change.toString());
    assertTrue(change.movedLevels().isEmpty());
  }

  /** A tenth of the columns doubles its light: it is found in what both frames hold. */
  @ParameterizedTest
  @CsvSource({"RAW, 2", "RAW, -3", "MEASURED, 2", "GUESSED, 2", "GUESSED, -3"})
  void findsWhatMoved(BlockNoise.Depth depth, double stops) {
    FrameChange change =
        change(
            frame(stops, 0.1, 1, light -> light, true),
            frame(0, 0, 2, light -> light, true),
            depth);
    double share = change.moved().value() / change.compared().value();
    assertEquals(0.1, share, 0.025, change.toString());
    FrameChange.Levels levels = change.movedLevels().orElseThrow();
    assertTrue(levels.low().value() < levels.high().value() - 2, levels.toString());
    assertTrue(levels.high().value() <= 0, levels.toString());
  }

  /** A tone curve makes the ratio another one at each level; that is no movement. */
  @Test
  void takesNoToneCurveForMovement() {
    DoubleUnaryOperator tone =
        light -> {
          double v = ToneResponse.linearToSrgb(Math.max(0, light));
          return ToneResponse.srgbToLinear(v * v * (3 - 2 * v));
        };
    BlockGrid now = frame(3, 0, 1, tone, true);
    BlockGrid before = frame(0, 0, 2, tone, true);
    assertEquals(0, change(now, before, BlockNoise.Depth.GUESSED).moved().value(), 0.001);
    FrameChange linear = change(now, before, BlockNoise.Depth.MEASURED);
    assertTrue(linear.moved().value() > 0.05, "taken for linear it would be: " + linear);
  }

  /** A whole level that swells in linear light is seen: the median is over all levels. */
  @Test
  void isNotBlindToAWholeLevelThatMoves() {
    float[] cells = new float[WIDTH * HEIGHT];
    float[] later = new float[WIDTH * HEIGHT];
    for (int i = 0; i < cells.length; i++) {
      boolean sea = i < cells.length / 4;
      cells[i] = sea ? 0.2f : 0.05f;
      later[i] = sea ? 0.3f : 0.05f;
    }
    FrameChange change =
        change(
            BlockGrid.of(later, WIDTH, HEIGHT, PIXELS),
            BlockGrid.of(cells, WIDTH, HEIGHT, PIXELS),
            BlockNoise.Depth.RAW);
    assertEquals(0.25, change.moved().value(), 0.02);
    assertEquals(0, change.ratio().value(), 1e-9);
  }

  @Test
  void saysNothingOfFramesThatHoldNothingInCommon() {
    BlockNoise noise = new BlockNoise(NoiseModel.TYPICAL, BlockNoise.Depth.RAW);
    BlockGrid dark = BlockGrid.of(new float[WIDTH * HEIGHT], WIDTH, HEIGHT, PIXELS);
    BlockGrid bright = frame(0, 0, 1, light -> light, true);
    assertEquals(Optional.empty(), Comparison.of(bright, ISO, dark, ISO, "1.JPG", noise));
    BlockGrid smaller = BlockGrid.of(new float[100 * 100], 100, 100, PIXELS);
    assertEquals(Optional.empty(), Comparison.of(bright, ISO, smaller, ISO, "1.JPG", noise));
  }
}
