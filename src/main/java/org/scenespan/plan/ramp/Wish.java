package org.scenespan.plan.ramp;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.scenespan.light.Ev;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * How bright the picture should be for how bright the scene is, so that night stays night, and how
 * much of it may be clipped. Between its points the curve is the monotone cubic of Fritsch and
 * Carlson (SIAM J. Numer. Anal. 17, 1980): no kinks for the eye, and no overshoot. Beyond its ends
 * it is level.
 *
 * @param points at least one, by rising scene EV
 * @param mostClipped how much of the picture may be clipped before the exposure is held back
 * @param mostHeld by how much at most it is held back for the highlights, 0 to 6 stops
 */
public record Wish(List<Point> points, Share mostClipped, Stops mostHeld) {
  /** More would be a list, not a wish. */
  public static final int MOST_POINTS = 32;

  /** Steeper, and a brighter scene would be exposed longer. */
  private static final double STEEPEST = 0.9;

  private static final Pattern WRITTEN =
      Pattern.compile("\\s*([+-]?\\d+(?:\\.\\d*)?)\\s*:\\s*([+-]?\\d+(?:\\.\\d*)?)\\s*");

  /**
   * A point of the curve.
   *
   * @param scene how bright the scene is
   * @param picture how bright the picture should then be against mid grey, −8 to 4 stops
   */
  public record Point(Ev scene, Stops picture) {
    public Point {
      if (!(picture.value() >= -8 && picture.value() <= 4)) {
        throw new IllegalArgumentException(
            "wished brightness (" + picture + ") must be -8 to +4 stops against mid grey");
      }
    }
  }

  public Wish {
    points = List.copyOf(points);
    if (points.isEmpty() || points.size() > MOST_POINTS) {
      throw new IllegalArgumentException(
          "a wish has 1 to " + MOST_POINTS + " points, not " + points.size());
    }
    for (int i = 1; i < points.size(); i++) {
      double run = points.get(i).scene().minus(points.get(i - 1).scene()).value();
      double rise = points.get(i).picture().minus(points.get(i - 1).picture()).value();
      if (!(run > 0)) {
        throw new IllegalArgumentException(
            "two points of the wish stand at " + points.get(i).scene());
      }
      if (!(Math.abs(rise) / run <= STEEPEST)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "the wish changes by %.2f stops a stop of light at %s; the most is %.1f",
                Math.abs(rise) / run,
                points.get(i).scene(),
                STEEPEST));
      }
    }
    if (!(mostHeld.value() >= 0 && mostHeld.value() <= 6)) {
      throw new IllegalArgumentException("hold (" + mostHeld + ") must be 0 to 6 stops");
    }
  }

  /**
   * Mid grey by day, and night as night [practice]: 2.5 stops under mid grey by starlight, about
   * one and a half at the end of civil twilight, none from sunrise on; half a percent may clip, and
   * two stops may be given for that.
   */
  public static Wish usual() {
    return of(
        List.of(
            point(-7, -2.5),
            point(-3, -2.2),
            point(0, -1.7),
            point(3, -1.0),
            point(7, -0.3),
            point(10, 0)));
  }

  /** Any scene the same. */
  public static Wish level(Stops picture) {
    return of(List.of(new Point(new Ev(0), picture)));
  }

  /** A curve with the usual tolerance of highlights. */
  public static Wish of(List<Point> points) {
    return new Wish(points, new Share(0.005), new Stops(2));
  }

  /** Parses points as {@code ev:stops}, in any order: {@code -6:-2.5}, {@code 10:0}. */
  public static Wish parse(List<String> written) {
    List<Point> points = new ArrayList<>();
    for (String text : written) {
      Matcher matcher = WRITTEN.matcher(text);
      if (!matcher.matches()) {
        throw new IllegalArgumentException(
            "\"" + text + "\" is not a point of a wish such as -6:-2.5 (scene EV:stops)");
      }
      points.add(point(Double.parseDouble(matcher.group(1)), Double.parseDouble(matcher.group(2))));
    }
    points.sort(Comparator.comparing(Point::scene));
    return of(points);
  }

  private static Point point(double scene, double picture) {
    return new Point(new Ev(scene), new Stops(picture));
  }

  public Wish withMostClipped(Share share) {
    return new Wish(points, share, mostHeld);
  }

  /** How bright the picture of a scene should be, against mid grey. */
  public Stops at(Ev scene) {
    int last = points.size() - 1;
    if (scene.compareTo(points.get(0).scene()) <= 0) {
      return points.get(0).picture();
    }
    if (scene.compareTo(points.get(last).scene()) >= 0) {
      return points.get(last).picture();
    }
    int i = 0;
    while (scene.isAbove(points.get(i + 1).scene())) {
      i++;
    }
    double run = run(i);
    double u = scene.minus(points.get(i).scene()).value() / run;
    double from = points.get(i).picture().value();
    double to = points.get(i + 1).picture().value();
    double bend = u * (1 - u) * run;
    return new Stops(
        from + (to - from) * u * u * (3 - 2 * u) + bend * ((1 - u) * slope(i) - u * slope(i + 1)));
  }

  /** The exposure that makes the picture as bright as is wished. */
  public Ev exposure(Ev scene) {
    return scene.minus(at(scene));
  }

  /** The scene of which an exposure makes the picture that is wished. */
  public Ev sceneOf(Ev exposure) {
    double low = exposure.value() - 10;
    double high = exposure.value() + 10;
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (exposure(new Ev(middle)).isAbove(exposure)) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return new Ev(Math.rint(low * 1e6) / 1e6);
  }

  private double run(int i) {
    return points.get(i + 1).scene().minus(points.get(i).scene()).value();
  }

  private double secant(int i) {
    return points.get(i + 1).picture().minus(points.get(i).picture()).value() / run(i);
  }

  /**
   * The slope at a point: the harmonic mean of both sides, weighted by their runs (Fritsch and
   * Butland, SIAM J. Sci. Stat. Comput. 5, 1984); none where they differ in sign, and at the ends.
   */
  private double slope(int i) {
    if (i == 0 || i == points.size() - 1 || secant(i - 1) * secant(i) <= 0) {
      return 0;
    }
    double before = 2 * run(i) + run(i - 1);
    double after = run(i) + 2 * run(i - 1);
    return (before + after) / (before / secant(i - 1) + after / secant(i));
  }
}
