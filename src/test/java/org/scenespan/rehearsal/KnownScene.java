package org.scenespan.rehearsal;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.Mosaic;
import org.scenespan.frame.MosaicMeter;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Exposure;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Evidence;
import org.scenespan.plan.Oracle;

/** A scene whose every pixel is known, and which can be photographed without files. */
final class KnownScene {
  /** Every second pixel of every second row is enough to judge by. */
  private static final int STRIDE = 2;

  private final Scene scene;
  private final double[] darkest;
  private final double[] brightest;
  private final Map<String, Evidence> taken = new HashMap<>();

  KnownScene(Scene scene) {
    this.scene = scene;
    int columns = scene.width() / STRIDE;
    int rows = scene.height() / STRIDE;
    darkest = new double[columns * rows];
    brightest = new double[columns * rows];
    for (int y = 0; y < rows; y++) {
      float[] row = scene.row(y * STRIDE);
      for (int x = 0; x < columns; x++) {
        int at = 3 * x * STRIDE;
        double most = Math.max(row[at], Math.max(row[at + 1], row[at + 2]));
        double luminance = scene.luminance(x * STRIDE, y * STRIDE);
        darkest[y * columns + x] = ev(luminance);
        brightest[y * columns + x] = ev(most);
      }
    }
  }

  private double ev(double value) {
    return value > 0 ? scene.evOf(value).value() : -100;
  }

  String name() {
    return scene.name().replaceFirst("\\.hdr$", "");
  }

  double meter() {
    return scene.ev().value();
  }

  /** A raw frame as the real meter sees it; the same seed and exposure give the same frame. */
  Evidence photograph(Exposure exposure, Exposure real, NoiseModel noise, long seed) {
    String key = seed + " " + real.ev().value() + " " + exposure.ev().value();
    return taken.computeIfAbsent(
        key, k -> Evidence.of(exposure, measure(real, noise, seed * 1000 + taken.size())));
  }

  private FrameMeasure measure(Exposure real, NoiseModel noise, long seed) {
    SensorFrame frame = new Sensor(noise, seed).expose(scene, real, 1);
    int width = frame.width() / 2 * 2;
    int height = frame.height() / 2 * 2;
    double black = frame.black();
    MosaicMeter meter =
        new MosaicMeter(
            width,
            height,
            new Mosaic("RGGB", List.of(black, black, black, black), frame.white(), noise.bits()));
    short[][] rows = new short[2][width];
    byte[] flags = new byte[meter.columns()];
    for (int y = 0; y < height; y += 2) {
      for (int half = 0; half < 2; half++) {
        for (int x = 0; x < width; x++) {
          rows[half][x] = (short) frame.code(x, y + half, SensorFrame.mosaicChannel(x, y + half));
        }
      }
      meter.blockRow(rows[0], rows[1], flags);
    }
    return meter.measure();
  }

  /** The bins of light between the tolerances that have any pixel. */
  double[] required(BracketGoal goal) {
    double low = quantile(darkest, goal.shadowTolerance().value());
    double high = quantile(brightest, 1 - goal.clipTolerance().value());
    TreeSet<Long> bins = new TreeSet<>();
    for (double[] values : List.of(darkest, brightest)) {
      for (double value : values) {
        if (value >= low && value <= high) {
          bins.add((long) Math.floor(value / Oracle.BIN_STOPS));
        }
      }
    }
    return bins.stream().mapToDouble(bin -> bin * Oracle.BIN_STOPS).toArray();
  }

  /** Stops from the log average to the bright end and to the dark end. */
  double[] ends(BracketGoal goal) {
    return new double[] {
      quantile(brightest, 1 - goal.clipTolerance().value()) - meter(),
      meter() - quantile(darkest, goal.shadowTolerance().value())
    };
  }

  private static double quantile(double[] values, double share) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[(int) Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
  }

  /**
   * The share of all pixels that no frame holds, beyond those that nothing can hold.
   *
   * @param feasible the brightest and the darkest EV that any exposure holds
   */
  double missed(List<Reach> reaches, Reach feasible) {
    long missed = 0;
    for (int i = 0; i < darkest.length; i++) {
      double low = darkest[i];
      double high = brightest[i];
      boolean possible = low >= feasible.low().value() && high <= feasible.high().value();
      if (possible
          && reaches.stream().noneMatch(r -> low >= r.low().value() && high <= r.high().value())) {
        missed++;
      }
    }
    return (double) missed / darkest.length;
  }
}
