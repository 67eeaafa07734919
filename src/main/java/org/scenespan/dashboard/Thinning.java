package org.scenespan.dashboard;

import java.util.BitSet;

/**
 * Fewer points of a long course, and none of its peaks lost: of each stretch those places stay at
 * which a series is least or largest, the newest places stay whole.
 */
final class Thinning {
  private Thinning() {}

  /**
   * Which places stay.
   *
   * @param count how many there are
   * @param most how many may stay, at least {@code newest} and four for each series
   * @param newest of the newest, all stay
   * @param series as many values each as there are places; NaN where there is none
   */
  static BitSet kept(int count, int most, int newest, float[]... series) {
    BitSet kept = new BitSet(count);
    if (count <= most) {
      kept.set(0, count);
      return kept;
    }
    int whole = count - newest;
    kept.set(whole, count);
    int stretches = Math.max(1, (most - newest) / (2 * series.length));
    for (int i = 0; i < stretches; i++) {
      int from = (int) ((long) whole * i / stretches);
      int to = (int) ((long) whole * (i + 1) / stretches);
      for (float[] each : series) {
        extremes(each, from, to, kept);
      }
    }
    return kept;
  }

  private static void extremes(float[] series, int from, int to, BitSet kept) {
    int least = -1;
    int largest = -1;
    for (int i = from; i < to; i++) {
      if (Float.isNaN(series[i])) {
        continue;
      }
      least = least < 0 || series[i] < series[least] ? i : least;
      largest = largest < 0 || series[i] > series[largest] ? i : largest;
    }
    if (least >= 0) {
      kept.set(least);
      kept.set(largest);
    }
  }
}
