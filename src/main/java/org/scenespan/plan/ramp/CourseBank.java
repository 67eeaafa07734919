package org.scenespan.plan.ramp;

import java.util.Arrays;
import java.util.function.UnaryOperator;
import java.util.stream.IntStream;

/**
 * A bank of filters, one a course, weighted by how well each foretold the frames. Each judges for
 * itself what a frame shows, since what is a cloud beside one course is the light of another. Once
 * the frames have told some courses apart from the light for good, these are dropped. Immutable.
 */
final class CourseBank {
  /**
   * How far the light may stand off a clear sky's before any frame is read, standard deviation in
   * stops: overcast takes some away, a bright part of the picture adds some.
   */
  private static final double STANDING = 2;

  /** City lights stand further off than any sky; no first frame speaks more against, in nats. */
  private static final double MOST_AGAINST_STANDING = 3;

  /** How long a departure's slope lasts when no frame tells, seconds. */
  private static final double SLOPE_LASTS = 600;

  /** A course this unlikely beside the likeliest is dropped. */
  private static final double NEGLIGIBLE = 1e-6;

  private final Courses courses;
  private final double at;
  private final CourseFilter[] filters;
  private final double[] weights;

  private CourseBank(Courses courses, double at, CourseFilter[] filters) {
    this.courses = courses;
    this.at = at;
    this.filters = filters;
    this.weights = weights(filters);
  }

  /** How likely each course is. */
  private static double[] weights(CourseFilter[] filters) {
    double most = Arrays.stream(filters).mapToDouble(CourseFilter::evidence).max().orElse(0);
    double[] weights = new double[filters.length];
    double sum = 0;
    for (int i = 0; i < weights.length; i++) {
      weights[i] = Math.exp(filters[i].evidence() - most);
      sum += weights[i];
    }
    for (int i = 0; i < weights.length; i++) {
      weights[i] /= sum;
    }
    return weights;
  }

  /** All courses go through the first frame. */
  static CourseBank start(Courses courses, double seconds, double value) {
    double[] light = courses.at(seconds);
    CourseFilter[] filters = new CourseFilter[light.length];
    for (int i = 0; i < filters.length; i++) {
      double level = value - light[i];
      filters[i] = CourseFilter.first(level, prior(courses, i, level));
    }
    return new CourseBank(courses, seconds, filters);
  }

  /** How likely a course is beforehand, in nats. */
  private static double prior(Courses courses, int course, double level) {
    double against = Math.min(MOST_AGAINST_STANDING, level * level / (2 * STANDING * STANDING));
    return (course == 0 ? courses.firstPrior() : 0) - against;
  }

  /** The same light, as well known, on fresh courses: those that go as it goes are likely. */
  CourseBank on(Courses fresh) {
    double value = at(at);
    double rate = rate(at);
    CourseFilter likeliest = likeliest();
    double[] before = fresh.at(at - 30);
    double[] now = fresh.at(at);
    double[] later = fresh.at(at + 30);
    CourseFilter[] drawn = new CourseFilter[now.length];
    for (int i = 0; i < drawn.length; i++) {
      double level = value - now[i];
      double slope = rate - (later[i] - before[i]) / 60;
      drawn[i] = likeliest.on(level, slope, prior(fresh, i, level));
    }
    return new CourseBank(fresh, at, drawn);
  }

  private CourseFilter likeliest() {
    CourseFilter likeliest = filters[0];
    for (CourseFilter filter : filters) {
      likeliest = filter.evidence() > likeliest.evidence() ? filter : likeliest;
    }
    return likeliest;
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
    CloudOdds.Passing clouds = CloudOdds.Passing.of(step);
    return with(seconds, it -> it.after(step, left, run, clouds));
  }

  /** How uncertain the level of the likeliest course is, stop². */
  double variance() {
    return likeliest().levelVariance();
  }

  /** How far a frame at the bank's moment is off what was foretold, stops. */
  double off(double value) {
    return value - at(at);
  }

  /** How likely the latest frame shows the slow light, 0 to 1. */
  double belief() {
    double belief = 0;
    for (int i = 0; i < weights.length; i++) {
      belief += weights[i] * filters[i].odds().slow();
    }
    return belief;
  }

  /** Takes in the frame at the bank's moment. */
  CourseBank given(double value, double noise) {
    double[] light = courses.at(at);
    CourseFilter[] told = filters.clone();
    for (int i = 0; i < told.length; i++) {
      told[i] = filters[i].given(value - light[i], noise);
    }
    return new CourseBank(courses, at, told).withoutNegligible();
  }

  /** Copies only where it halves the work. */
  private CourseBank withoutNegligible() {
    double least = NEGLIGIBLE * Arrays.stream(weights).max().orElse(0);
    int[] kept = IntStream.range(0, weights.length).filter(i -> weights[i] >= least).toArray();
    if (kept.length > weights.length / 2) {
      return this;
    }
    CourseFilter[] left = new CourseFilter[kept.length];
    for (int i = 0; i < left.length; i++) {
      left[i] = filters[kept[i]];
    }
    return new CourseBank(courses.only(kept), at, left);
  }

  /** All courses moved to another level and less sure of it, as if nothing were known of clouds. */
  CourseBank moved(double stops) {
    return with(at, it -> it.moved(stops));
  }

  /** All courses less sure of level and slope. */
  CourseBank loosened() {
    return with(at, CourseFilter::loosened);
  }

  private CourseBank with(double seconds, UnaryOperator<CourseFilter> change) {
    CourseFilter[] changed = Arrays.stream(filters).map(change).toArray(CourseFilter[]::new);
    return new CourseBank(courses, seconds, changed);
  }

  /** What the courses expect together, EV; a departure's slope dies out. */
  double at(double seconds) {
    double[] light = courses.at(seconds);
    double ahead = seconds - at;
    double lasting = ahead > 0 ? SLOPE_LASTS * (1 - Math.exp(-ahead / SLOPE_LASTS)) : ahead;
    double sum = 0;
    for (int i = 0; i < weights.length; i++) {
      sum += weights[i] * (light[i] + filters[i].level() + filters[i].slope() * lasting);
    }
    return sum;
  }

  /** How fast the light goes at a moment, stops a second. */
  double rate(double seconds) {
    return (at(seconds + 30) - at(seconds - 30)) / 60;
  }
}
