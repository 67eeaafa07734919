package org.scenespan.proof;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.opencv.core.Mat;
import org.opencv.photo.Photo;
import org.scenespan.frame.ToneResponse;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SensorTap;

/**
 * Exposure fusion held against OpenCV's on the same frames with the same exponents, 1, 1 and 1: its
 * own default of the third is 0, the paper's is 1. Within 3 code values, as its own tests allow.
 */
class FusionTest {
  private static final double CODES = 3;

  private record Shown(int width, int height, List<short[]> frames) implements Fusion.Pictures {
    @Override
    public int count() {
      return frames.size();
    }

    @Override
    public Plane[] load(int index) {
      Plane[] planes = new Plane[3];
      for (int c = 0; c < 3; c++) {
        planes[c] = Plane.empty(width, height);
        for (int p = 0; p < width * height; p++) {
          planes[c].values()[p] = frames.get(index)[3 * p + c] / 255f;
        }
      }
      return planes;
    }
  }

  /**
   * How far from OpenCV.
   *
   * @param worst codes of 8 bits
   * @param outside share of the values that are off by more than 3
   */
  private record Difference(double worst, double outside) {}

  private static Difference difference(Shown shown) throws IOException {
    Plane[] ours = new Fusion(shown.width, shown.height).fuse(shown);
    List<Mat> mats = new ArrayList<>();
    shown.frames.forEach(frame -> mats.add(Cv.rgb(frame, shown.width)));
    Mat fused = new Mat();
    Photo.createMergeMertens(1, 1, 1).process(mats, fused);
    float[] theirs = new float[3 * shown.width * shown.height];
    fused.get(0, 0, theirs);
    double worst = 0;
    long outside = 0;
    for (int i = 0; i < theirs.length; i++) {
      double off = Math.abs(code(theirs[i]) - code(ours[i % 3].values()[i / 3]));
      worst = Math.max(worst, off);
      outside += off > CODES ? 1 : 0;
    }
    return new Difference(worst, (double) outside / theirs.length);
  }

  private static double code(float value) {
    return 255 * Math.max(0, Math.min(1, value));
  }

  /**
   * Where a pixel has no contrast or no colour in any frame, all its weights are 0 but for the
   * rounding of single precision, which then decides; it differs with a processor's instructions.
   * So a few values in a million may be off, and some more in two frames eight stops apart, of
   * which one is black wherever the other shows something.
   */
  @ParameterizedTest
  @CsvSource({
    "ridge, 1/4000 1/250 1/15, 1e-5",
    "window, 1/250 1/30 1/4, 1e-5",
    "ridge, 1/8000 1/30, 1e-4",
    "venice_sunset_1k, 1/8000 1/500 1/30, 1e-5",
    "peppermint_powerplant_1k, 1/1000 1/60 1/4, 1e-5",
    "Tree, 1/4000 1/250 1/15, 1e-5"
  })
  void isThatOfTheReferenceOnScenes(String name, String shutters, double most) throws IOException {
    Scene scene = Scenes.named(name);
    List<short[]> frames = new ArrayList<>();
    for (String shutter : shutters.split(" ")) {
      frames.add(
          SensorTap.rendered8(
              scene,
              Exposures.of(shutter),
              frames.size() + 1,
              light -> ToneResponse.linearToSrgb(Math.min(1, light))));
    }
    Difference difference = difference(new Shown(scene.width(), scene.height(), frames));
    assertTrue(difference.outside <= most, difference.toString());
  }

  /** Sizes that are odd, thin or tiny, where the pyramids' edges are most of the picture. */
  @ParameterizedTest
  @CsvSource({"64, 64", "65, 47", "100, 3", "2, 2", "7, 129", "33, 32"})
  void isThatOfTheReferenceAtEverySize(int width, int height) throws IOException {
    Random random = new Random(width * 1000L + height);
    List<short[]> frames = new ArrayList<>();
    for (int j = 0; j < 3; j++) {
      short[] codes = new short[3 * width * height];
      for (int i = 0; i < codes.length; i++) {
        codes[i] = (short) random.nextInt(256);
      }
      frames.add(codes);
    }
    Difference difference = difference(new Shown(width, height, frames));
    assertTrue(difference.worst <= CODES, difference.toString());
  }

  /** With one frame there is nothing to choose from. */
  @Test
  void leavesASingleFrameAsItIs() throws IOException {
    short[] codes = new short[3 * 31 * 17];
    Random random = new Random(3);
    for (int i = 0; i < codes.length; i++) {
      codes[i] = (short) random.nextInt(256);
    }
    Plane[] fused = new Fusion(31, 17).fuse(new Shown(31, 17, List.of(codes)));
    for (int i = 0; i < codes.length; i++) {
      assertEquals(codes[i], 255 * fused[i % 3].values()[i / 3], 0.01);
    }
  }
}
