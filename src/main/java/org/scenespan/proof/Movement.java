package org.scenespan.proof;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import org.scenespan.frame.Luminance;

/**
 * Finds the pixels that differ between neighbouring exposures by more than noise allows, after the
 * idea of Granados et al., "Automatic Noise Modeling for Ghost-free HDR Reconstruction" (ACM
 * Transactions on Graphics 32, 2013): two frames agree on a pixel where their difference in
 * radiance is likely under the noise of both.
 *
 * <p>Departure: luminances are summed over 3 × 3 pixels first, so that a movement smaller than the
 * noise of a pixel is seen too; and the frames may be off as a whole by their tolerances.
 */
final class Movement {
  /** Deviations; beyond them by chance in one of 16 000 places. */
  private static final double DEVIATIONS = 4;

  /**
   * Compression shifts a rendered picture's codes by about one [practice]: in variance of steps.
   */
  private static final double COMPRESSION_STEPS = 1;

  private static final double[] WEIGHTS = {Luminance.RED, Luminance.GREEN, Luminance.BLUE};

  private final Merge merge;
  private final List<Integer> order = new ArrayList<>();

  Movement(Merge merge) {
    this.merge = merge;
    for (int j = 0; j < merge.frames(); j++) {
      order.add(j);
    }
    order.sort(Comparator.comparingDouble(j -> merge.light(j).electronsPerUnit()));
  }

  /** A frame's luminance over some rows: radiance, its variance, and whether it says anything. */
  private record Plane(float[] value, float[] variance, boolean[] known) {
    static Plane of(int pixels) {
      return new Plane(new float[pixels], new float[pixels], new boolean[pixels]);
    }
  }

  /**
   * @param codes of each frame, three a pixel, of rows that include one above and one below those
   *     asked for, but at the picture's edges
   * @param rows in the codes
   * @param moved takes one value a pixel of all rows; those of the edges stay false
   */
  void find(short[][] codes, int width, int rows, boolean[] moved) {
    Plane darker = null;
    for (int k = 0; k < order.size(); k++) {
      Plane brighter = plane(order.get(k), codes[order.get(k)], width * rows);
      if (darker != null) {
        double tolerance =
            Math.max(
                merge.light(order.get(k)).tolerance(), merge.light(order.get(k - 1)).tolerance());
        compare(darker, brighter, tolerance, width, rows, moved);
      }
      darker = brighter;
    }
  }

  private Plane plane(int frame, short[] codes, int pixels) {
    Plane plane = Plane.of(pixels);
    double e = merge.light(frame).electronsPerUnit();
    double floor = merge.light(frame).floorVariance();
    FrameLight.Tables[] tables = {
      merge.tables(frame, 0), merge.tables(frame, 1), merge.tables(frame, 2)
    };
    boolean rendered = merge.light(frame).scales().get(0).codes() <= 256;
    double roundings = rendered ? 1 + 12 * COMPRESSION_STEPS : 1;
    IntStream.range(0, pixels)
        .parallel()
        .forEach(
            p -> {
              double value = 0;
              double variance = 0;
              boolean known = true;
              for (int channel = 0; channel < 3; channel++) {
                int code = codes[3 * p + channel] & 0xffff;
                double electrons = tables[channel].electrons()[code];
                double c = WEIGHTS[channel];
                known &= tables[channel].guard()[code] == 1;
                value += c * electrons;
                variance +=
                    c
                        * c
                        * (Math.max(0, electrons)
                            + floor
                            + roundings * tables[channel].rounding()[code]);
              }
              plane.value[p] = (float) (value / e);
              plane.variance[p] = (float) (variance / (e * e));
              plane.known[p] = known;
            });
    return plane;
  }

  private static void compare(
      Plane a, Plane b, double tolerance, int width, int rows, boolean[] moved) {
    IntStream.range(1, rows - 1)
        .parallel()
        .forEach(
            y -> {
              for (int p = y * width + 1; p < (y + 1) * width - 1; p++) {
                moved[p] |= differs(a, b, tolerance, p, width);
              }
            });
  }

  private static boolean differs(Plane a, Plane b, double tolerance, int p, int width) {
    double difference = 0;
    double total = 0;
    double variance = 0;
    for (int row = p - width; row <= p + width; row += width) {
      for (int q = row - 1; q <= row + 1; q++) {
        if (!(a.known[q] && b.known[q])) {
          return false;
        }
        difference += a.value[q] - b.value[q];
        total += Math.max(a.value[q], b.value[q]);
        variance += a.variance[q] + b.variance[q];
      }
    }
    double excess = Math.abs(difference) - tolerance * total;
    return excess > 0 && excess * excess > DEVIATIONS * DEVIATIONS * variance;
  }
}
