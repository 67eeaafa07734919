package org.scenespan.bench;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Predicate;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Rounding;
import org.scenespan.light.Stops;
import org.scenespan.plan.Oracle;

/**
 * The least that a cold start can come to on the benchmark's scenes: every first frame that the
 * camera can take is tried on every scene in every light, and what follows it is played by somebody
 * who knows every pixel. A rule that knows only the meter chooses one offset for all of them.
 */
final class ColdBound {
  /** Offsets are tried this far apart, stops. */
  private static final double STEP_STOPS = 0.05;

  private static final double DARKEST_OFFSET = 16;

  /** The plan lets a shortfall of a tenth of a stop pass at each end: so may who knows all. */
  private static final double PASS_STOPS = 0.1;

  /**
   * One scene in one light, by its first frame's place on the camera's grid.
   *
   * @param frames over the fewest, the first frame and the fewest that can follow it
   * @param seconds over the least, likewise, a row an overhead
   */
  private record Case(Trial trial, double[] frames, double[][] seconds) {
    static Case of(TrueScene scene, double snr, int seed) {
      List<Exposure> grid = Trial.grid();
      double[] frames = new double[grid.size()];
      double[][] seconds = new double[BracketBench.OVERHEADS.size()][grid.size()];
      Trial trial = null;
      for (int i = 0; i < seconds.length; i++) {
        trial = new Trial(scene, snr, BracketBench.OVERHEADS.get(i), seed, Trial.Wrong.NOTHING);
        double[] bins = trial.oracle().feasible(trial.required());
        double fewest = trial.oracle().fewest(bins).frames().size();
        double least = trial.oracle().leastTime(bins).seconds();
        double[] inner = inner(bins);
        for (int first = 0; first < grid.size(); first++) {
          Oracle.Frame frame = trial.frame(grid.get(first));
          if (i == 0) {
            frames[first] = trial.oracle().fewest(frame, inner).frames().size() / fewest;
          }
          seconds[i][first] = trial.oracle().leastTime(frame, inner).seconds() / least;
        }
      }
      return new Case(trial, frames, seconds);
    }

    private static double[] inner(double[] bins) {
      double low = bins[0] + PASS_STOPS - 1e-9;
      double high = bins[bins.length - 1] - PASS_STOPS + 1e-9;
      return Arrays.stream(bins).filter(bin -> bin >= low && bin <= high).toArray();
    }

    private int first(double offset) {
      Ev clipPoint = trial.average().plus(new Stops(offset));
      Ev wanted = clipPoint.minus(NoiseModel.ceilingStops()).minus(MidGrey.BELOW_SATURATION);
      return Trial.grid().indexOf(Trial.LATITUDE.at(wanted, Rounding.NEAREST));
    }

    double framesAt(double offset) {
      return frames[first(offset)];
    }

    double secondsAt(double offset) {
      return Arrays.stream(seconds).mapToDouble(row -> row[first(offset)]).average().orElseThrow();
    }
  }

  /** An offset and what it comes to. */
  record Best(double offset, double ratio) {}

  private final List<Case> cases;

  private ColdBound(List<Case> cases) {
    this.cases = cases;
  }

  static ColdBound of(List<TrueScene> scenes, double snr) {
    return new ColdBound(
        scenes.parallelStream()
            .flatMap(
                scene ->
                    IntStream.range(0, BracketBench.SEEDS)
                        .mapToObj(seed -> Case.of(scene, snr, seed)))
            .toList());
  }

  /** The same for some of the scenes. */
  ColdBound only(Predicate<TrueScene> wanted) {
    return new ColdBound(cases.stream().filter(one -> wanted.test(one.trial.scene())).toList());
  }

  double frames(double offset) {
    return cases.stream().mapToDouble(one -> one.framesAt(offset)).average().orElseThrow();
  }

  double seconds(double offset) {
    return cases.stream().mapToDouble(one -> one.secondsAt(offset)).average().orElseThrow();
  }

  /** The one offset that is best for these scenes in hindsight. */
  Best fewestFrames() {
    return best(this::frames);
  }

  Best leastTime() {
    return best(this::seconds);
  }

  private static Best best(ToDoubleFunction<Double> ratio) {
    Best best = new Best(0, Double.POSITIVE_INFINITY);
    for (double offset = -4; offset <= DARKEST_OFFSET; offset += STEP_STOPS) {
      double found = ratio.applyAsDouble(offset);
      best = found < best.ratio - 1e-9 ? new Best(offset, found) : best;
    }
    return best;
  }

  /**
   * For a rule that is told how wide a scene is and how its light lies, but not where in it the
   * meter reading stands: all places between the two ends are as likely. The mean, over the scenes,
   * of the least expected ratio.
   */
  double placeUnknown() {
    List<Double> least = new ArrayList<>();
    for (Case one : cases) {
      least.add(leastOverPlaces(one));
    }
    return least.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
  }

  private static double leastOverPlaces(Case one) {
    double[] bins = one.trial.required();
    double width = bins[bins.length - 1] + Oracle.BIN_STOPS - bins[0];
    // With the meter's place even over the width, so is the first frame's: a window of the grid.
    int clicks = (int) Math.max(1, Math.rint(width / Stops.THIRD.value()));
    double best = Double.POSITIVE_INFINITY;
    for (int from = 0; from + clicks <= one.frames.length; from++) {
      best = Math.min(best, Arrays.stream(one.frames, from, from + clicks).average().orElseThrow());
    }
    return best;
  }
}
