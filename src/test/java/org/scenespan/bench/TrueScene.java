package org.scenespan.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import org.scenespan.frame.Luminance;
import org.scenespan.light.Ev;
import org.scenespan.plan.Oracle;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SceneLight;

/**
 * A scene of which every pixel is known, thinned out: of its pixels in the order of their brightest
 * channel every so manieth is kept, so that a sun's disc keeps its share. Where they stood is lost.
 *
 * @param rgb linear values, 1 at the log average of the whole scene
 * @param luminance stops over the log average, sorted
 * @param brightest stops of the brightest channel over the log average, sorted
 */
record TrueScene(String name, int width, double[][] rgb, double[] luminance, double[] brightest) {
  private static final int WIDTH = 256;
  private static final int MOST_PIXELS = 128 * WIDTH;

  static TrueScene of(Scene scene) {
    List<double[]> pixels = new ArrayList<>();
    for (int y = 0; y < scene.height(); y++) {
      double[] light = SceneLight.row(scene, y);
      for (int i = 0; i < light.length; i += 3) {
        pixels.add(new double[] {light[i], light[i + 1], light[i + 2]});
      }
    }
    pixels.sort(Comparator.comparingDouble(TrueScene::most));
    int count = Math.min(MOST_PIXELS, pixels.size() / WIDTH * WIDTH);
    double[][] rgb = new double[count / WIDTH][3 * WIDTH];
    double[] luminance = new double[count];
    double[] brightest = new double[count];
    for (int i = 0; i < count; i++) {
      double[] pixel = pixels.get((int) ((i + 0.5) * pixels.size() / count));
      System.arraycopy(pixel, 0, rgb[i / WIDTH], 3 * (i % WIDTH), 3);
      luminance[i] = stops(Luminance.of(pixel[0], pixel[1], pixel[2]));
      brightest[i] = stops(most(pixel));
    }
    Arrays.sort(luminance);
    Arrays.sort(brightest);
    return new TrueScene(scene.name(), WIDTH, rgb, luminance, brightest);
  }

  private static double most(double[] pixel) {
    return Math.max(pixel[0], Math.max(pixel[1], pixel[2]));
  }

  static double stops(double linear) {
    return linear <= 0 ? -40 : Math.log(linear) / Math.log(2);
  }

  int pixels() {
    return luminance.length;
  }

  /** The dark end when a share of the pixels is let go, stops over the log average. */
  double low(double share) {
    return luminance[(int) Math.min(pixels() - 1, share * pixels())];
  }

  double high(double share) {
    return brightest[(int) Math.max(0, pixels() - 1 - Math.floor(share * pixels()))];
  }

  /** Bins with light in them between two ends, with the log average at an EV. */
  double[] required(Ev average, double low, double high) {
    int first = (int) Math.floor(low / Oracle.BIN_STOPS);
    int last = (int) Math.floor(high / Oracle.BIN_STOPS);
    boolean[] lit = new boolean[last - first + 1];
    for (double[] values : List.of(luminance, brightest)) {
      for (double value : values) {
        if (value >= low && value <= high) {
          lit[(int) Math.floor(value / Oracle.BIN_STOPS) - first] = true;
        }
      }
    }
    return IntStream.range(0, lit.length)
        .filter(i -> lit[i])
        .mapToDouble(i -> average.value() + (first + i) * Oracle.BIN_STOPS)
        .toArray();
  }
}
