package org.scenespan.frame;

import java.util.Arrays;
import java.util.Optional;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * Looks for a band along an edge that the flash did not reach: lines, or columns, that are darker
 * against the reference frame than the others, all of them on one side of a sharp step.
 */
final class DarkBand {
  /** A band is darker than the rest by this much, stops. */
  private static final double LEAST_DROP = 0.7;

  /** A band, and the rest, are each at least this part of the picture. */
  private static final double LEAST_PART = 0.05;

  /** Lines on the wrong side of the step that may be, as a part of all: the step's own width. */
  private static final double STEP = 0.08;

  private DarkBand() {}

  /**
   * @param byLine stops of each line from the top against the reference; NaN where nothing tells
   * @param byColumn likewise of each column from the left
   */
  static Optional<Deviation.Band> of(double[] byLine, double[] byColumn) {
    return along(byLine, Deviation.Edge.TOP, Deviation.Edge.BOTTOM)
        .or(() -> along(byColumn, Deviation.Edge.LEFT, Deviation.Edge.RIGHT));
  }

  private static Optional<Deviation.Band> along(
      double[] profile, Deviation.Edge first, Deviation.Edge last) {
    double[] told = Arrays.stream(profile).filter(value -> !Double.isNaN(value)).toArray();
    int least = (int) Math.ceil(LEAST_PART * profile.length);
    if (told.length < 2 * least || told.length < 8) {
      return Optional.empty();
    }
    int split = -1;
    double widest = 0;
    for (int at = least; at <= told.length - least; at++) {
      double step = mean(told, at, told.length) - mean(told, 0, at);
      if (Math.abs(step) > Math.abs(widest)) {
        widest = step;
        split = at;
      }
    }
    if (!(Math.abs(widest) >= LEAST_DROP)) {
      return Optional.empty();
    }
    boolean atStart = widest > 0;
    double middle = (mean(told, split, told.length) + mean(told, 0, split)) / 2;
    int wrong = 0;
    for (int i = 0; i < told.length; i++) {
      boolean dark = told[i] < middle;
      if (dark != (i < split == atStart)) {
        wrong++;
      }
    }
    if (wrong > STEP * told.length) {
      return Optional.empty();
    }
    int dark = atStart ? split : told.length - split;
    return Optional.of(
        new Deviation.Band(
            atStart ? first : last, Share.of(dark, told.length), new Stops(Math.abs(widest))));
  }

  /** Of values that are medians already; a mean alone finds where the step is. */
  private static double mean(double[] values, int from, int to) {
    return Arrays.stream(values, from, to).average().orElse(0);
  }
}
