package org.scenespan.proof;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.frame.CodeScale;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.PictureForm;
import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

/** What moves between frames is found, and noise is not taken for movement. */
class MovementTest {
  private static final int WIDTH = 240;
  private static final int HEIGHT = 160;
  private static final List<Exposure> EXPOSURES =
      List.of(Exposures.of("1/1000"), Exposures.of("1/250"), Exposures.of("1/60"));

  /** A ramp of nine stops, with a square at some place that is one stop brighter. */
  private static Scene scene(int left) {
    float[][] rows = new float[HEIGHT][3 * WIDTH];
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        boolean inside = x >= left && x < left + 20 && y >= 70 && y < 90;
        float value = (float) Math.pow(2, 9.0 * x / WIDTH) * (inside ? 2 : 1);
        for (int c = 0; c < 3; c++) {
          rows[y][3 * x + c] = value;
        }
      }
    }
    return SensorTap.scene(rows, new Ev(11));
  }

  private static boolean[] moved(boolean raw, int... lefts) {
    short[][] codes = new short[EXPOSURES.size()][];
    CodeScale scale = raw ? CodeScale.linear16() : CodeScale.of(ToneResponse.srgb(8));
    PictureForm form = new PictureForm(WIDTH, HEIGHT, !raw, scale, FrameMetadata.NONE);
    for (int j = 0; j < codes.length; j++) {
      Scene scene = scene(lefts[j]);
      codes[j] =
          raw
              ? SensorTap.linear16(scene, EXPOSURES.get(j), j + 1)
              : SensorTap.rendered8(
                  scene,
                  EXPOSURES.get(j),
                  j + 1,
                  light -> ToneResponse.linearToSrgb(Math.min(1, light)));
    }
    Merge merge =
        new Merge(
            EXPOSURES.stream()
                .map(
                    exposure ->
                        FrameLight.of(
                            form, exposure, NoiseModel.TYPICAL, new Ev(12), Optional.empty()))
                .toList());
    boolean[] moved = new boolean[WIDTH * HEIGHT];
    new Movement(merge).find(codes, WIDTH, HEIGHT, moved);
    return moved;
  }

  private static double share(boolean[] moved, int left, int right, int top, int bottom) {
    int count = 0;
    for (int y = top; y < bottom; y++) {
      for (int x = left; x < right; x++) {
        count += moved[y * WIDTH + x] ? 1 : 0;
      }
    }
    return (double) count / ((right - left) * (bottom - top));
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void takesNoNoiseForMovement(boolean raw) {
    double share = share(moved(raw, 60, 60, 60), 0, WIDTH, 0, HEIGHT);
    assertTrue(share <= 1e-3, "share " + share);
  }

  /** The square stands at 120 in the first frame and has gone on to 160 in the others. */
  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void findsWhatMoves(boolean raw) {
    boolean[] moved = moved(raw, 120, 160, 160);
    assertTrue(share(moved, 122, 138, 72, 88) >= 0.9, "where it was");
    assertTrue(share(moved, 162, 178, 72, 88) >= 0.9, "where it is");
    assertTrue(share(moved, 0, WIDTH, 0, 65) <= 1e-3, "elsewhere");
  }
}
