package org.scenespan.plan.guard;

import java.util.List;
import java.util.Optional;

/**
 * A light that goes somewhere, frame by frame: a lamp that warms up, a flash whose battery sinks.
 *
 * @param frames over which it was seen
 * @param perFrame by how much each is on from the one before
 */
record Trend(int frames, double perFrame) {
  /** Fewer frames are a coincidence. */
  static final int LEAST = 8;

  /** More are not looked at: a trend is a thing of now. */
  static final int MOST = 24;

  /** By chance alone, eight frames in no order reach this in about one of 300 cases. */
  private static final double LEAST_ORDER = 0.7;

  /**
   * @param values of the latest frames, the oldest first
   * @param least what the whole way must come to for it to matter
   */
  static Optional<Trend> of(List<Double> values, double least) {
    int frames = Math.min(values.size(), MOST);
    if (frames < LEAST) {
      return Optional.empty();
    }
    double[] latest =
        values.subList(values.size() - frames, values.size()).stream()
            .mapToDouble(Double::doubleValue)
            .toArray();
    double slope = Robust.slope(latest);
    boolean inOrder = Math.abs(Robust.order(latest)) >= LEAST_ORDER;
    return inOrder && Math.abs(slope) * (frames - 1) >= least
        ? Optional.of(new Trend(frames, slope))
        : Optional.empty();
  }
}
