package org.scenespan.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.scenespan.frame.Luminance;
import org.scenespan.light.Ev;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SceneLight;

/**
 * A scene of which every pixel is known, thinned out: tiles of 8 × 8 pixels are kept whole, so that
 * both the spread of its light and what neighbours have in common stay as they are.
 *
 * @param rgb linear values, 1 at the log average
 * @param luminance stops over the log average, sorted
 * @param brightest stops of the brightest channel over the log average, sorted
 */
record TrueScene(String name, int width, double[][] rgb, double[] luminance, double[] brightest) {
  private static final int TILE = 8;
  private static final int MOST_PIXELS = 30_000;

  static TrueScene of(Scene scene) {
    int every =
        (int)
            Math.max(
                1, Math.round(Math.sqrt((double) scene.width() * scene.height() / MOST_PIXELS)));
    List<Integer> columns = kept(scene.width(), every);
    List<Integer> lines = kept(scene.height(), every);
    double[][] rgb = new double[lines.size()][3 * columns.size()];
    double[] luminance = new double[lines.size() * columns.size()];
    double[] brightest = luminance.clone();
    int at = 0;
    for (int y = 0; y < lines.size(); y++) {
      double[] light = SceneLight.row(scene, lines.get(y));
      for (int x = 0; x < columns.size(); x++) {
        System.arraycopy(light, 3 * columns.get(x), rgb[y], 3 * x, 3);
        double r = rgb[y][3 * x];
        double g = rgb[y][3 * x + 1];
        double b = rgb[y][3 * x + 2];
        luminance[at] = stops(Luminance.of(r, g, b));
        brightest[at++] = stops(Math.max(r, Math.max(g, b)));
      }
    }
    Arrays.sort(luminance);
    Arrays.sort(brightest);
    return new TrueScene(scene.name(), columns.size(), rgb, luminance, brightest);
  }

  private static List<Integer> kept(int length, int every) {
    List<Integer> kept = new ArrayList<>();
    for (int from = 0; from + TILE <= length; from += TILE * every) {
      for (int i = 0; i < TILE; i++) {
        kept.add(from + i);
      }
    }
    return kept;
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
  List<Ev> required(Ev average, double low, double high) {
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
    List<Ev> bins = new ArrayList<>();
    for (int i = 0; i < lit.length; i++) {
      if (lit[i]) {
        bins.add(new Ev(average.value() + (first + i) * Oracle.BIN_STOPS));
      }
    }
    return bins;
  }
}
