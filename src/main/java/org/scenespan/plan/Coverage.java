package org.scenespan.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Ev;

/**
 * The signal-to-noise that a set of frames gives at each EV of the scene, and where it falls short.
 *
 * @param points from dark to bright
 * @param holes each stretch with light in it below the asked signal-to-noise, in words
 */
public record Coverage(List<Point> points, List<String> holes) {
  public static final Coverage NONE = new Coverage(List.of(), List.of());

  /** Points to a stop; a clip point shows as a step between two of them. */
  private static final int PER_STOP = 3;

  private static final double MOST_STOPS = 60;

  /** A shortfall smaller than this is none: the planner's own tolerance. */
  private static final double AS_GOOD = Math.pow(2, -SpanEstimate.TELLS_APART_STOPS);

  /**
   * @param best of the single frames that do not clip there
   * @param merged of all of those together, √Σ SNR²
   */
  public record Point(Ev ev, double best, double merged) {}

  public Coverage {
    points = List.copyOf(points);
    holes = List.copyOf(holes);
  }

  public static Coverage of(
      SpanEstimate span, BracketGoal goal, NoiseModel noise, List<Evidence> frames) {
    List<Point> points = new ArrayList<>();
    double low = span.low().value();
    double stops = Math.min(MOST_STOPS, span.high().value() - low);
    int steps = (int) Math.max(1, Math.ceil(stops * PER_STOP));
    for (int i = 0; i <= steps; i++) {
      points.add(at(new Ev(low + stops * i / steps), noise, frames));
    }
    return new Coverage(points, holes(points, goal));
  }

  private static Point at(Ev ev, NoiseModel noise, List<Evidence> frames) {
    double best = 0;
    double squares = 0;
    for (Evidence frame : frames) {
      double level = frame.level(ev).value();
      // A thousandth of a stop: the span's own end is a clip point now and then.
      if (level <= NoiseModel.ceilingStops().value() + 0.001) {
        double electrons = noise.saturation(frame.exposure().iso()) * Math.pow(2, level);
        double snr = noise.snr(electrons, frame.exposure().iso());
        best = Math.max(best, snr);
        squares += snr * snr;
      }
    }
    return new Point(ev, tidy(best), tidy(Math.sqrt(squares)));
  }

  private static double tidy(double snr) {
    return Math.rint(snr * 100) / 100;
  }

  private static List<String> holes(List<Point> points, BracketGoal goal) {
    List<String> holes = new ArrayList<>();
    Point from = null;
    Point last = null;
    double worst = Double.POSITIVE_INFINITY;
    for (Point point : points) {
      boolean falls = point.best < goal.snr() * AS_GOOD;
      if (falls) {
        from = from == null ? point : from;
        worst = Math.min(worst, point.best);
      } else if (from != null) {
        holes.add(words(from, last, worst));
        from = null;
        worst = Double.POSITIVE_INFINITY;
      }
      last = point;
    }
    if (from != null) {
      holes.add(words(from, last, worst));
    }
    return holes;
  }

  private static String words(Point from, Point to, double worst) {
    return worst == 0
        ? String.format(Locale.ROOT, "From %s to %s every frame is clipped.", from.ev, to.ev)
        : String.format(
            Locale.ROOT, "From %s to %s the signal-to-noise falls to %.1f.", from.ev, to.ev, worst);
  }
}
