package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import org.scenespan.frame.LogHistogram;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;

/**
 * The scene's light on the EV axis, put together from all frames: each level is taken from the
 * frame that gave it the most light without clipping it.
 *
 * @param fromEv the lower edge of the first bin
 * @param binsPerStop bins to a stop
 * @param shares the share of the picture in each bin; what the darkest frame clips is in the last
 */
public record SceneHistogram(Ev fromEv, int binsPerStop, List<Double> shares) {
  public static final SceneHistogram EMPTY =
      new SceneHistogram(new Ev(0), LogHistogram.BINS_PER_STOP, List.of());

  public SceneHistogram {
    shares = List.copyOf(shares);
  }

  static SceneHistogram of(List<Evidence> frames, Function<Evidence, LogHistogram> pixels) {
    if (frames.isEmpty()) {
      return EMPTY;
    }
    List<Evidence> brightestFirst = new ArrayList<>(frames);
    brightestFirst.sort(Comparator.comparing(Evidence::ev));
    int perStop = LogHistogram.BINS_PER_STOP;
    Evidence first = brightestFirst.get(0);
    Evidence last = brightestFirst.get(brightestFirst.size() - 1);
    int from =
        (int) Math.floor(first.sceneEv(new Stops(LogHistogram.FROM_STOPS)).value() * perStop);
    int to = (int) Math.ceil(last.sceneEv(Stops.ZERO).value() * perStop) + 1;
    double[] shares = new double[to - from];
    Ev takenUpTo = new Ev(-1e6);
    for (Evidence frame : brightestFirst) {
      boolean isLast = frame == last;
      Ev ceiling = frame.sceneEv(isLast ? new Stops(1) : NoiseModel.ceilingStops());
      pour(frame, pixels.apply(frame), takenUpTo, ceiling, shares, from);
      takenUpTo = ceiling;
    }
    return trimmed(shares, from);
  }

  /** The share of the picture between two EVs; within a bin evenly spread. */
  double shareBetween(Ev low, Ev high) {
    double sum = 0;
    for (int bin = 0; bin < shares.size(); bin++) {
      double from = fromEv.value() + (double) bin / binsPerStop;
      double to = from + 1.0 / binsPerStop;
      double overlap = Math.min(to, high.value()) - Math.max(from, low.value());
      sum += shares.get(bin) * Math.max(0, overlap) * binsPerStop;
    }
    return sum;
  }

  /** Adds a frame's pixels between two scene EVs, splitting bins where they do not line up. */
  private static void pour(
      Evidence frame, LogHistogram histogram, Ev above, Ev upTo, double[] shares, int from) {
    int perStop = LogHistogram.BINS_PER_STOP;
    double total = histogram.total();
    for (int bin = 0; bin <= LogHistogram.SATURATED_BIN; bin++) {
      if (histogram.count(bin) == 0) {
        continue;
      }
      double low = frame.sceneEv(LogHistogram.lowerEdge(bin)).value();
      double high = low + 1.0 / perStop;
      double start = Math.max(low, above.value());
      double end = Math.min(high, upTo.value());
      if (end <= start) {
        continue;
      }
      double density = histogram.count(bin) / total / (high - low);
      int lastIndex = Math.min(shares.length - 1, (int) Math.floor(end * perStop) - from);
      for (int i = Math.max(0, (int) Math.floor(start * perStop) - from); i <= lastIndex; i++) {
        double binStart = (double) (from + i) / perStop;
        double overlap = Math.min(end, binStart + 1.0 / perStop) - Math.max(start, binStart);
        shares[i] += density * Math.max(0, overlap);
      }
    }
  }

  private static SceneHistogram trimmed(double[] shares, int from) {
    int first = 0;
    int end = shares.length;
    while (first < end && shares[first] == 0) {
      first++;
    }
    while (end > first && shares[end - 1] == 0) {
      end--;
    }
    List<Double> kept = new ArrayList<>();
    for (int i = first; i < end; i++) {
      // Seven digits are finer than one pixel of any camera.
      kept.add(Math.rint(shares[i] * 1e7) / 1e7);
    }
    int perStop = LogHistogram.BINS_PER_STOP;
    return new SceneHistogram(new Ev((double) (from + first) / perStop), perStop, kept);
  }
}
