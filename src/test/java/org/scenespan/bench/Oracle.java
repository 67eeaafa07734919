package org.scenespan.bench;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;

/**
 * The exact cover of a scene that is known: a weighted interval cover by dynamic programming over
 * the exposure grid, for bins of 0.05 stop.
 */
record Oracle(List<Exposure> grid, NoiseModel noise, double snr, double overheadSeconds) {
  static final double BIN_STOPS = 0.05;

  Oracle {
    grid = grid.stream().sorted(Comparator.comparing(Exposure::ev)).toList();
  }

  /**
   * @param frames chosen exposures, the brightest first
   * @param infeasible bins that no exposure of the grid can serve, left out
   */
  record Cover(List<Exposure> frames, double seconds, List<Ev> infeasible) {}

  /** The fewest frames, and among those covers the quickest. */
  Cover fewestFrames(List<Ev> bins) {
    return cover(bins, 1e6);
  }

  Cover leastTime(List<Ev> bins) {
    return cover(bins, 0);
  }

  boolean isFeasible(Ev bin) {
    return grid.stream().anyMatch(exposure -> holds(noise.reach(exposure, snr), bin));
  }

  private static boolean holds(Reach reach, Ev bin) {
    return bin.value() >= reach.low().value() - 1e-9
        && bin.value() + BIN_STOPS <= reach.high().value() + 1e-9;
  }

  private Cover cover(List<Ev> bins, double frameCost) {
    List<Ev> infeasible = bins.stream().filter(bin -> !isFeasible(bin)).toList();
    List<Ev> required = bins.stream().filter(this::isFeasible).sorted().toList();
    int count = grid.size();
    List<Reach> reaches = grid.stream().map(exposure -> noise.reach(exposure, snr)).toList();
    double[] cost = new double[count];
    int[] before = new int[count];
    int last = -1;
    double least = required.isEmpty() ? 0 : Double.POSITIVE_INFINITY;
    for (int j = 0; j < count; j++) {
      double own = frameCost + overheadSeconds + grid.get(j).shutter().seconds();
      // Ends of reaches grow with EV, so what a chosen pair leaves out nobody later holds.
      cost[j] = missed(required, null, reaches.get(j)) ? Double.POSITIVE_INFINITY : own;
      before[j] = -1;
      for (int i = 0; i < j; i++) {
        if (cost[i] + own < cost[j] && !missed(required, reaches.get(i), reaches.get(j))) {
          cost[j] = cost[i] + own;
          before[j] = i;
        }
      }
      if (cost[j] < least && !missed(required, reaches.get(j), null)) {
        least = cost[j];
        last = j;
      }
    }
    List<Exposure> frames = new ArrayList<>();
    double seconds = 0;
    for (int j = last; j >= 0; j = before[j]) {
      frames.add(0, grid.get(j));
      seconds += overheadSeconds + grid.get(j).shutter().seconds();
    }
    return new Cover(frames, seconds, infeasible);
  }

  /** Whether a required bin lies between two reaches, beyond the first or the last. */
  private static boolean missed(List<Ev> required, Reach brighter, Reach darker) {
    for (Ev bin : required) {
      boolean past =
          brighter == null
              || bin.value() + BIN_STOPS > brighter.high().value() + 1e-9
                  && bin.value() > brighter.low().value();
      boolean reached = darker != null && bin.value() >= darker.low().value() - 1e-9;
      if (past && !reached) {
        return true;
      }
    }
    return false;
  }
}
