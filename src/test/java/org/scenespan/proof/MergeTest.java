package org.scenespan.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.PictureForm;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

class MergeTest {
  private static final NoiseModel NOISE = NoiseModel.TYPICAL;
  private static final Ev UNIT = new Ev(12);

  private static FrameLight light(Exposure exposure) {
    PictureForm form = new PictureForm(1, 1, false, CodeScale.linear16(), FrameMetadata.NONE);
    return FrameLight.of(form, exposure, NOISE, UNIT, Optional.empty());
  }

  /** Grey from EV {@code low} to EV {@code high} in even steps of a logarithm. */
  private static Scene ramp(double low, double high, int width, int height) {
    float[][] rows = new float[height][3 * width];
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        double share = (x + (double) y / height) / width;
        float value = (float) Math.pow(2, (high - low) * (share - 0.5));
        Arrays.fill(rows[y], 3 * x, 3 * x + 3, value);
      }
    }
    return SensorTap.scene(rows, new Ev((low + high) / 2));
  }

  /**
   * Merged relative error at most 3/√(Σ SNR²) for 99.7 % of the pixels, the sum over unclipped
   * frames (the project's own check; the SNR of Hasinoff, Durand &amp; Freeman, CVPR 2010). The
   * brightest part of the ramp is clipped in all frames but the first, the darkest is below SNR 1
   * in it.
   */
  @ParameterizedTest
  @CsvSource({
    "1/4000 1/250 1/15, 100, 5, 19",
    "1/4000 1/250 1/15, 800, 3, 16",
    "1/1000 1/500 1/250, 100, 7, 17",
    "1/8000 1/60 1s, 100, 2, 19",
  })
  void errsNoMoreThanTheSumOfSignalToNoiseAllows(
      String shutters, String iso, double low, double high) {
    assertTrue(shareWithin(ramp(low, high, 1200, 300), shutters, iso) >= 0.997);
  }

  /** The same on scenes whose radiance was measured. */
  @ParameterizedTest
  @CsvSource({
    "ridge, 1/8000 1/60 1/15",
    "venice_sunset_1k, 1/8000 1/125 1/30",
    "peppermint_powerplant_1k, 1/1000 1/4",
    "Tree, 1/8000 1/250 1/15",
  })
  void errsNoMoreOnMeasuredScenes(String name, String shutters) {
    double share = shareWithin(Scenes.named(name), shutters, "100");
    assertTrue(share >= 0.997, "only " + share);
  }

  private static double shareWithin(Scene scene, String shutters, String iso) {
    List<Exposure> exposures =
        Arrays.stream(shutters.split(" ")).map(shutter -> Exposures.of(shutter, iso)).toList();
    List<short[]> codes = new ArrayList<>();
    for (int j = 0; j < exposures.size(); j++) {
      codes.add(SensorTap.linear16(scene, exposures.get(j), j + 1));
    }
    Merge merge = new Merge(exposures.stream().map(MergeTest::light).toList());
    float[] radiance = new float[3 * scene.width()];
    float[] information = new float[3 * scene.width()];
    long within = 0;
    long all = 0;
    for (int y = 0; y < scene.height(); y++) {
      merge.row(
          codes.toArray(short[][]::new),
          3 * y * scene.width(),
          scene.width(),
          radiance,
          information);
      for (int i = 0; i < radiance.length; i++) {
        float light = SensorTap.row(scene, y)[i];
        if (light <= 0) {
          // Nothing has no relative error.
          continue;
        }
        Ev ev = scene.evOf(light);
        double truth = ev.minus(UNIT).ratio();
        double squares = squaredSnr(exposures, ev);
        if (squares > 0) {
          all++;
          within += Math.abs(radiance[i] / truth - 1) <= 3 / Math.sqrt(squares) ? 1 : 0;
        }
      }
    }
    return (double) within / all;
  }

  private static double squaredSnr(List<Exposure> exposures, Ev ev) {
    double squares = 0;
    for (Exposure exposure : exposures) {
      double part = ev.minus(MidGrey.saturation(exposure)).ratio();
      if (part <= NoiseModel.HEADROOM) {
        double snr = NOISE.snr(part * NOISE.saturation(exposure.iso()), exposure.iso());
        squares += snr * snr;
      }
    }
    return squares;
  }

  private static float[] merged(List<Exposure> exposures, double... lights) {
    Merge merge = new Merge(exposures.stream().map(MergeTest::light).toList());
    short[][] codes = new short[lights.length][3];
    for (int j = 0; j < lights.length; j++) {
      Arrays.fill(codes[j], CodeScale.code16(lights[j]));
    }
    float[] radiance = new float[3];
    float[] information = new float[3];
    merge.row(codes, 0, 1, radiance, information);
    return new float[] {radiance[0], information[0]};
  }

  private static double radianceAtSaturation(Exposure exposure) {
    return MidGrey.saturation(exposure).minus(UNIT).ratio();
  }

  private static final Exposure SHORT = Exposures.of("1/1000");
  private static final Exposure LONG = Exposures.of("1/60");

  /** Clipped in every frame: at least what the darkest frame holds, and known to be no more. */
  @Test
  void takesTheDarkestWhereAllAreClipped() {
    for (List<Exposure> order : List.of(List.of(SHORT, LONG), List.of(LONG, SHORT))) {
      float[] merged = merged(order, 1, 1);
      assertEquals(1, merged[0] / radianceAtSaturation(SHORT), 1e-6);
      assertEquals(0, merged[1]);
    }
  }

  /** Below SNR 1 together: what the frame with the most light says, never below black. */
  @Test
  void takesTheBrightestWhereAllAreBelowTheFloor() {
    double light = 1.0 / NOISE.fullWell();
    float[] merged = merged(List.of(SHORT, LONG), 4 * light, light);
    assertEquals(1, merged[0] / (light * radianceAtSaturation(LONG)), 0.3);
    assertEquals(0, merged(List.of(SHORT, LONG), -4 * light, -4 * light)[0]);
  }

  /** A clipped frame has no say; SNR² of 1 frame. */
  @Test
  void leavesClippedFramesOut() {
    float[] alone = merged(List.of(SHORT), 0.5);
    float[] beside = merged(List.of(SHORT, LONG), 0.5, 1);
    assertEquals(alone[0], beside[0]);
    assertEquals(alone[1], beside[1]);
  }

  /** Two equal frames raise SNR by √2. */
  @Test
  void twoEqualFramesDoubleTheInformation() {
    float[] one = merged(List.of(SHORT), 0.25);
    float[] two = merged(List.of(SHORT, SHORT), 0.25, 0.25);
    assertEquals(one[0], two[0], 1e-6 * one[0]);
    assertEquals(2, two[1] / one[1], 1e-5);
  }

  /** 1 up to 0.95 of saturation, then down without a jump, 0 before clipping. */
  @ParameterizedTest
  @CsvSource({"0, 1", "0.95, 1", "0.965, 0.5", "0.98, 0", "1, 0"})
  void guardsSaturationSmoothly(double light, double guard) {
    assertEquals(guard, FrameLight.guard(light), 1e-9);
  }
}
