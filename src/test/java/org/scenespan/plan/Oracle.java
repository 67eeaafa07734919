package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/**
 * The best bracket for a scene that is known: exact covers of its bins of light by the frames that
 * a camera can take. Each frame serves an interval of bins, so the least cost of covering the bins
 * from one on depends on that bin alone, and dynamic programming from the last bin to the first
 * finds it.
 */
public final class Oracle {
  /**
   * A frame that could be taken.
   *
   * @param low the bottom of its reach, stops on the scene's axis
   * @param high the top of its reach
   * @param seconds its exposure time
   */
  public record Frame(double low, double high, double seconds) {}

  /**
   * A cover.
   *
   * @param frames in the order of the axis, the brightest exposure first
   * @param seconds exposures and overhead together
   * @param infeasible bins that no frame serves, which are left out
   */
  public record Cover(List<Frame> frames, double seconds, int infeasible) {}

  /** The width of a bin, stops. */
  public static final double BIN_STOPS = 0.05;

  private final List<Frame> frames;
  private final double overhead;

  /**
   * @param overhead seconds that each frame costs beyond its exposure
   */
  public Oracle(List<Frame> frames, double overhead) {
    this.frames = frames.stream().sorted(Comparator.comparingDouble(Frame::seconds)).toList();
    this.overhead = overhead;
  }

  /**
   * The cover of the fewest frames, and of those the one of the least time.
   *
   * @param bins the lower edges of the bins to cover, ascending
   */
  public Cover fewest(double[] bins) {
    // A frame costs more than all the time in the world: first frames, then time.
    return cover(bins, 1e9);
  }

  /** The cover of the least time. */
  public Cover leastTime(double[] bins) {
    return cover(bins, 0);
  }

  /** Likewise, with a frame that is in it already. */
  public Cover fewest(Frame first, double[] bins) {
    return with(first, fewest(rest(first, bins)));
  }

  /** Likewise, with a frame that is in it already. */
  public Cover leastTime(Frame first, double[] bins) {
    return with(first, leastTime(rest(first, bins)));
  }

  /** Those of the bins that some frame serves. */
  public double[] feasible(double[] bins) {
    return Arrays.stream(bins).filter(this::isFeasible).toArray();
  }

  private static double[] rest(Frame first, double[] bins) {
    return Arrays.stream(bins).filter(bin -> !serves(first, bin)).toArray();
  }

  private Cover with(Frame first, Cover rest) {
    List<Frame> all = new ArrayList<>(rest.frames);
    all.add(first);
    return new Cover(all, rest.seconds + overhead + first.seconds, rest.infeasible);
  }

  private Cover cover(double[] all, double perFrame) {
    double[] bins = feasible(all);
    int count = bins.length;
    double[] cost = new double[count + 1];
    Frame[] chosen = new Frame[count];
    int[] next = new int[count];
    for (int bin = count - 1; bin >= 0; bin--) {
      cost[bin] = Double.POSITIVE_INFINITY;
      for (Frame frame : frames) {
        if (!serves(frame, bins[bin])) {
          continue;
        }
        int after = firstBeyond(frame, bins, bin);
        double total = perFrame + overhead + frame.seconds + cost[after];
        if (total < cost[bin]) {
          cost[bin] = total;
          chosen[bin] = frame;
          next[bin] = after;
        }
      }
    }
    List<Frame> cover = new ArrayList<>();
    double seconds = 0;
    for (int bin = 0; bin < count; bin = next[bin]) {
      cover.add(chosen[bin]);
      seconds += overhead + chosen[bin].seconds;
    }
    return new Cover(cover, seconds, all.length - count);
  }

  private static int firstBeyond(Frame frame, double[] bins, int from) {
    int served = from;
    int beyond = bins.length;
    while (beyond - served > 1) {
      int middle = (served + beyond) >>> 1;
      if (serves(frame, bins[middle])) {
        served = middle;
      } else {
        beyond = middle;
      }
    }
    return beyond;
  }

  private boolean isFeasible(double bin) {
    return frames.stream().anyMatch(frame -> serves(frame, bin));
  }

  private static boolean serves(Frame frame, double bin) {
    return frame.low <= bin + 1e-9 && frame.high >= bin + BIN_STOPS - 1e-9;
  }
}
