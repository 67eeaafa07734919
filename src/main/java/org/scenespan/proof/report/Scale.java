package org.scenespan.proof.report;

/**
 * Places values along one side of a drawing.
 *
 * @param low the value at {@code from}
 * @param high the value at {@code to}, above {@code low}
 * @param from a coordinate
 * @param to another one
 */
record Scale(double low, double high, double from, double to) {
  private static final double[] STEPS = {0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100};

  /** More labels than this crowd a side. */
  private static final int MOST_LABELS = 12;

  Scale {
    if (!(high > low)) {
      throw new IllegalArgumentException("high (" + high + ") must be above low (" + low + ")");
    }
  }

  double of(double value) {
    double held = Math.max(low, Math.min(high, value));
    return from + (to - from) * (held - low) / (high - low);
  }

  /** The distance of labels, a round number. */
  double step() {
    for (double step : STEPS) {
      if ((high - low) / step <= MOST_LABELS) {
        return step;
      }
    }
    return (high - low) / MOST_LABELS;
  }

  /** The first label's value. */
  double first() {
    return Math.ceil(low / step() - 1e-9) * step();
  }
}
