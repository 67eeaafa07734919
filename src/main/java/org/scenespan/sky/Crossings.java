package org.scenespan.sky;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** Where the sun's altitude crosses a height between two instants, searched on its position. */
final class Crossings {
  /** How finely a day is searched for its turning points, in seconds; the sun has two a day. */
  private static final double STEP_SECONDS = 3600;

  /** How near a turning point is found: there the altitude stands still, to a millionth degree. */
  private static final double NEAR_TURN_SECONDS = 10;

  /** How near a crossing is searched; from there to it is a straight line. */
  private static final double NEAR_SECONDS = 2;

  private final Place place;
  private final Instant start;

  /** The ends and the turning points, in seconds from the start: between two, it goes one way. */
  private final List<Double> turns;

  private Crossings(Place place, Instant start, double length) {
    this.place = place;
    this.start = start;
    this.turns = turningPoints(length);
  }

  static Crossings between(Place place, Instant start, Instant end) {
    return new Crossings(place, start, Duration.between(start, end).toMillis() / 1000.0);
  }

  Course course(Horizon horizon) {
    double height = horizon.altitudeDegrees();
    List<Instant> rising = new ArrayList<>();
    List<Instant> setting = new ArrayList<>();
    for (int i = 1; i < turns.size(); i++) {
      double from = turns.get(i - 1);
      double to = turns.get(i);
      boolean above = altitude(from) >= height;
      if (above != altitude(to) >= height) {
        (above ? setting : rising).add(at(crossing(from, to, height)));
      }
    }
    if (!rising.isEmpty() || !setting.isEmpty()) {
      return new Course.Crosses(rising, setting);
    }
    return altitude(0) >= height ? new Course.StaysAbove() : new Course.StaysBelow();
  }

  private List<Double> turningPoints(double length) {
    List<Double> found = new ArrayList<>(List.of(0.0));
    double before = altitude(-STEP_SECONDS);
    double here = altitude(0);
    for (double at = 0; at <= length; at += STEP_SECONDS) {
      double next = altitude(at + STEP_SECONDS);
      if ((here - before) * (next - here) < 0) {
        double turn = turn(at - STEP_SECONDS, at + STEP_SECONDS, here > before ? 1 : -1);
        if (turn > 0 && turn < length) {
          found.add(turn);
        }
      }
      before = here;
      here = next;
    }
    found.add(length);
    return found;
  }

  /** The highest point between two ({@code sign} 1) or the lowest (−1), by the golden section. */
  private double turn(double from, double to, int sign) {
    double golden = (Math.sqrt(5) - 1) / 2;
    double low = from;
    double high = to;
    while (high - low > NEAR_TURN_SECONDS) {
      double left = high - golden * (high - low);
      double right = low + golden * (high - low);
      if (sign * altitude(left) > sign * altitude(right)) {
        high = right;
      } else {
        low = left;
      }
    }
    return (low + high) / 2;
  }

  private double crossing(double from, double to, double height) {
    boolean above = altitude(from) >= height;
    double low = from;
    double high = to;
    while (high - low > NEAR_SECONDS) {
      double middle = (low + high) / 2;
      if (altitude(middle) >= height == above) {
        low = middle;
      } else {
        high = middle;
      }
    }
    double atLow = altitude(low);
    double atHigh = altitude(high);
    return low + (high - low) * (height - atLow) / (atHigh - atLow);
  }

  private double altitude(double seconds) {
    return Sun.at(place, at(seconds)).altitudeDegrees();
  }

  private Instant at(double seconds) {
    return start.plusMillis(Math.round(seconds * 1000));
  }
}
