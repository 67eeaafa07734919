package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * How far a scene's ends usually stand from its meter reading, before anything is seen of it.
 *
 * <p>Two sources, each scene counted once. Of 47 real scenes of radiance only percentiles are
 * known: the bright end 3.4, 8.4 and 14.1 stops over the log average at the 5th, 50th and 95th, the
 * dark end 2.6, 4.1 and 6.8 under it; each end is taken for a normal law of two halves (Fechner's),
 * and the ends for independent. Of ten more, published as radiance for anybody's use, both ends
 * were measured together, and each stands for scenes a little like it.
 */
final class ScenePrior {
  /** Standard normal quantile of 95 %. */
  private static final double AT_95 = 1.645;

  private static final int SCENES_OF_PERCENTILES = 47;

  /**
   * Bright end over and dark end under the log average, stops, with a ten-thousandth and half a
   * hundredth of the pixels let go: open landscapes, backlit trees, halls, a studio, a bridge, low
   * suns.
   */
  private static final double[][] MEASURED = {
    {3.1, 1.9}, {2.3, 3.4}, {6.1, 5.2}, {7.5, 7.8}, {9.4, 6.5},
    {8.1, 5.0}, {7.7, 3.9}, {12.1, 5.0}, {7.9, 5.0}, {5.2, 4.8}
  };

  /** A scene like one that was measured has its ends as near to that one's, one sigma, stops. */
  private static final double ALIKE_STOPS = 0.35;

  private static final int ALIKE_POINTS = 9;

  /** With the sun in the frame the bright end is among the farthest of the usual ones. */
  private static final double SUN_FROM_RANK = 0.6;

  /**
   * A scene's ends.
   *
   * @param high stops of the bright end over the meter
   * @param low stops of the dark end under it
   * @param weight of all, 1 together
   */
  record Ends(double high, double low, double weight) {}

  private final List<Ends> ends;

  private ScenePrior(List<Ends> ends) {
    double sum = ends.stream().mapToDouble(Ends::weight).sum();
    this.ends = ends.stream().map(e -> new Ends(e.high, e.low, e.weight / sum)).toList();
  }

  static ScenePrior of(Intent.Keep keep, boolean sunInFrame) {
    return without(-1, keep, sunInFrame);
  }

  /** The same without one of the scenes that were measured, which can then be foretold fairly. */
  static ScenePrior without(int measured, Intent.Keep keep, boolean sunInFrame) {
    List<Ends> all = new ArrayList<>();
    spread(all, SCENES_OF_PERCENTILES, ranks(96, 3.4, 8.4, 14.1), ranks(48, 2.6, 4.1, 6.8));
    for (int i = 0; i < MEASURED.length; i++) {
      if (i != measured) {
        spread(all, 1, alike(MEASURED[i][0]), alike(MEASURED[i][1]));
      }
    }
    ScenePrior prior = new ScenePrior(all);
    if (sunInFrame) {
      double from = prior.highlights(SUN_FROM_RANK);
      prior = new ScenePrior(all.stream().filter(e -> e.high >= from).toList());
    }
    return prior.keeping(keep);
  }

  private ScenePrior keeping(Intent.Keep keep) {
    return switch (keep) {
      case BOTH -> this;
      case HIGHLIGHTS ->
          new ScenePrior(ends.stream().map(e -> new Ends(e.high, 0, e.weight)).toList());
      case SHADOWS -> new ScenePrior(ends.stream().map(e -> new Ends(0, e.low, e.weight)).toList());
    };
  }

  List<Ends> ends() {
    return ends;
  }

  /** The stops that a share of the scenes' bright ends stands no farther over the meter. */
  double highlights(double rank) {
    return quantile(rank, ends.stream().map(e -> new double[] {e.high, e.weight}).toList());
  }

  /** The stops that a share of the scenes' dark ends stands no farther under the meter. */
  double shadows(double rank) {
    return quantile(rank, ends.stream().map(e -> new double[] {e.low, e.weight}).toList());
  }

  private static double quantile(double rank, List<double[]> weighted) {
    List<double[]> sorted = new ArrayList<>(weighted);
    sorted.sort(Comparator.comparingDouble(pair -> pair[0]));
    double passed = 0;
    for (double[] pair : sorted) {
      passed += pair[1];
      if (passed >= rank) {
        return pair[0];
      }
    }
    return sorted.get(sorted.size() - 1)[0];
  }

  private static void spread(List<Ends> into, double weight, double[] highs, double[] lows) {
    for (double high : highs) {
      for (double low : lows) {
        into.add(new Ends(high, low, weight / highs.length / lows.length));
      }
    }
  }

  private static double[] alike(double middle) {
    double reach = AT_95 * ALIKE_STOPS;
    return ranks(ALIKE_POINTS, middle - reach, middle, middle + reach);
  }

  private static double[] ranks(int count, double low, double middle, double high) {
    double[] values = new double[count];
    for (int i = 0; i < count; i++) {
      double z = normalQuantile((i + 0.5) / count);
      values[i] = middle + z * (z < 0 ? middle - low : high - middle) / AT_95;
    }
    return values;
  }

  /**
   * Tukey's lambda approximation of the normal quantile, within 0.01 between the 1st and the 99th
   * percentile.
   */
  private static double normalQuantile(double rank) {
    return (Math.pow(rank, 0.135) - Math.pow(1 - rank, 0.135)) / 0.1975;
  }
}
