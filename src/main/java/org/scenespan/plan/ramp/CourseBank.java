package org.scenespan.plan.ramp;

import java.util.Arrays;

/**
 * A bank of filters, one a course: each tracks how far the light stands over its course (level) and
 * how fast it leaves it (slope) by Kalman's filter, and is weighted by how well it foretold the
 * frames. All share one covariance, since they differ only by what is taken off beforehand.
 * Immutable.
 */
final class CourseBank {
  /**
   * What one second adds to the variance of the slope, stop²/s³: how far nature leaves a course.
   */
  private static final double SLOPE_WANDER = 3e-11;

  /** What one second adds to the variance of the level, stop²/s. */
  private static final double LEVEL_WANDER = 1e-7;

  private static final double FIRST_LEVEL = 0.3 * 0.3;
  static final double FIRST_SLOPE = Math.pow(0.02 / 60, 2);

  /** A frame that is too far off says no more against a course than this, in nats. */
  private static final double MOST_AGAINST = 8;

  /** How long a departure's slope lasts when no frame tells, seconds. */
  private static final double SLOPE_LASTS = 600;

  private final Courses courses;
  private final double at;
  private final double[] level;
  private final double[] slope;
  private final double[] evidence;
  private final double[] weights;
  private final double pLevel;
  private final double pBoth;
  private final double pSlope;

  private CourseBank(
      Courses courses,
      double at,
      double[] level,
      double[] slope,
      double[] evidence,
      double[] weights,
      double pLevel,
      double pBoth,
      double pSlope) {
    this.courses = courses;
    this.at = at;
    this.level = level;
    this.slope = slope;
    this.evidence = evidence;
    this.weights = weights;
    this.pLevel = pLevel;
    this.pBoth = pBoth;
    this.pSlope = pSlope;
  }

  /** All courses go through the first frame, and are equally likely. */
  static CourseBank start(Courses courses, double seconds, double value) {
    int size = courses.size();
    double[] level = new double[size];
    courses.at(seconds, level);
    for (int i = 0; i < size; i++) {
      level[i] = value - level[i];
    }
    return new CourseBank(
        courses,
        seconds,
        level,
        new double[size],
        new double[size],
        weights(new double[size]),
        FIRST_LEVEL,
        0,
        FIRST_SLOPE);
  }

  /**
   * The same light on fresh courses: those that go as it goes now are likely.
   *
   * @param slopeSpread how well the present slope is known, stops a second
   */
  CourseBank on(Courses fresh, double slopeSpread) {
    double value = at(at);
    double rate = rate(at);
    CourseBank bank = start(fresh, at, value);
    double[] later = new double[fresh.size()];
    double[] now = new double[fresh.size()];
    fresh.at(at + 30, later);
    fresh.at(at - 30, now);
    for (int i = 0; i < later.length; i++) {
      double off = (later[i] - now[i]) / 60 - rate;
      bank.evidence[i] = -off * off / (2 * slopeSpread * slopeSpread);
    }
    return new CourseBank(
        fresh,
        at,
        bank.level,
        bank.slope,
        bank.evidence,
        weights(bank.evidence),
        pLevel,
        0,
        FIRST_SLOPE);
  }

  double seconds() {
    return at;
  }

  /**
   * The bank at a later moment, before its frame is looked at.
   *
   * @param lasting how long a departure's slope lasts, seconds: it dies out exponentially
   */
  CourseBank until(double seconds, double lasting) {
    double step = seconds - at;
    double left = Math.exp(-step / lasting);
    double run = left == 1 ? step : lasting * (1 - left);
    double[] moved = new double[level.length];
    double[] slopes = new double[level.length];
    for (int i = 0; i < moved.length; i++) {
      moved[i] = level[i] + slope[i] * run;
      slopes[i] = slope[i] * left;
    }
    double cube = step * step * step;
    return new CourseBank(
        courses,
        seconds,
        moved,
        slopes,
        evidence,
        weights,
        pLevel + step * (2 * pBoth + step * pSlope) + SLOPE_WANDER * cube / 3 + LEVEL_WANDER * step,
        pBoth + step * pSlope + SLOPE_WANDER * step * step / 2,
        pSlope + SLOPE_WANDER * step);
  }

  /** How uncertain the level is, stop². */
  double variance() {
    return pLevel;
  }

  /** How likely each course is. */
  private static double[] weights(double[] evidence) {
    double most = Arrays.stream(evidence).max().orElse(0);
    double[] weights = new double[evidence.length];
    double sum = 0;
    for (int i = 0; i < weights.length; i++) {
      weights[i] = Math.exp(evidence[i] - most);
      sum += weights[i];
    }
    for (int i = 0; i < weights.length; i++) {
      weights[i] /= sum;
    }
    return weights;
  }

  /**
   * What a frame at the bank's moment says.
   *
   * @param mean how far it is off what was foretold
   * @param square the mean square of that over the courses
   * @param density how dense the foretold values lie there, if it shows the slow light
   */
  record Surprise(double mean, double square, double density) {}

  Surprise surprise(double value, double noise) {
    double[] light = new double[level.length];
    courses.at(at, light);
    double spread = pLevel + noise;
    double mean = 0;
    double square = 0;
    double density = 0;
    for (int i = 0; i < weights.length; i++) {
      double off = value - level[i] - light[i];
      mean += weights[i] * off;
      square += weights[i] * off * off;
      density += weights[i] * Math.exp(-off * off / (2 * spread));
    }
    return new Surprise(mean, square, density / Math.sqrt(2 * Math.PI * spread));
  }

  /**
   * Takes in the frame at the bank's moment, as far as it is believed (probabilistic data
   * association: Bar-Shalom and Tse, Automatica 11, 1975).
   *
   * @param belief how likely it shows the slow light, 0 to 1
   */
  CourseBank after(double value, double noise, double belief, Surprise surprise) {
    double spread = pLevel + noise;
    double gainLevel = pLevel / spread;
    double gainSlope = pBoth / spread;
    double[] light = new double[level.length];
    courses.at(at, light);
    double[] levels = level.clone();
    double[] slopes = slope.clone();
    double[] told = evidence.clone();
    for (int i = 0; i < levels.length; i++) {
      double off = value - level[i] - light[i];
      levels[i] += belief * gainLevel * off;
      slopes[i] += belief * gainSlope * off;
      told[i] -= belief * Math.min(MOST_AGAINST, off * off / (2 * spread));
    }
    double taken =
        -belief * spread + belief * (1 - belief) * Math.min(surprise.square(), FIRST_LEVEL);
    return new CourseBank(
        courses,
        at,
        levels,
        slopes,
        told,
        weights(told),
        pLevel + taken * gainLevel * gainLevel,
        pBoth + taken * gainLevel * gainSlope,
        pSlope + taken * gainSlope * gainSlope);
  }

  /** All courses moved to another level, less sure than before. */
  CourseBank moved(double stops, double variance, double slopeVariance) {
    double[] levels = Arrays.stream(level).map(it -> it + stops).toArray();
    return new CourseBank(
        courses,
        at,
        levels,
        slope,
        evidence,
        weights,
        pLevel + variance,
        pBoth,
        pSlope + slopeVariance);
  }

  /** What the courses expect together, EV; a departure's slope dies out. */
  double at(double seconds) {
    double[] light = new double[level.length];
    courses.at(seconds, light);
    double ahead = seconds - at;
    double lasting = ahead > 0 ? SLOPE_LASTS * (1 - Math.exp(-ahead / SLOPE_LASTS)) : ahead;
    double sum = 0;
    for (int i = 0; i < weights.length; i++) {
      sum += weights[i] * (light[i] + level[i] + slope[i] * lasting);
    }
    return sum;
  }

  /** How fast the light goes at a moment, stops a second. */
  double rate(double seconds) {
    return (at(seconds + 30) - at(seconds - 30)) / 60;
  }
}
