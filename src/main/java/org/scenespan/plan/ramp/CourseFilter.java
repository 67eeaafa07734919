package org.scenespan.plan.ramp;

/**
 * How the light stands to one course: Kalman's filter of how far it stands over the course (level)
 * and how fast it leaves it (slope), with the odds of a cloud beside this course. Immutable.
 *
 * @param level stops
 * @param slope stops a second
 * @param levelVariance stop²
 * @param bothVariance of level and slope together, stop²/s
 * @param slopeVariance stop²/s²
 * @param odds of what the latest frame shows
 * @param evidence for the course, in nats
 */
record CourseFilter(
    double level,
    double slope,
    double levelVariance,
    double bothVariance,
    double slopeVariance,
    CloudOdds odds,
    double evidence) {
  /**
   * What one second adds to the variance of the slope, stop²/s³: how far nature leaves a course.
   */
  private static final double SLOPE_WANDER = 3e-11;

  /** What one second adds to the variance of the level, stop²/s. */
  private static final double LEVEL_WANDER = 1e-7;

  private static final double FIRST_LEVEL = 0.3 * 0.3;
  private static final double FIRST_SLOPE = Math.pow(0.02 / 60, 2);

  /** How much less sure level and slope are once the light has moved for good. */
  private static final double MOVED_LEVEL = 0.1 * 0.1;

  private static final double MOVED_SLOPE = FIRST_SLOPE;

  /** How much less sure they are where the light leaves its course. */
  private static final double LEFT_LEVEL = 0.03 * 0.03;

  private static final double LEFT_SLOPE = Math.pow(0.04 / 60, 2);

  static CourseFilter first(double level, double evidence) {
    return new CourseFilter(level, 0, FIRST_LEVEL, 0, FIRST_SLOPE, CloudOdds.UNKNOWN, evidence);
  }

  /** The same light beside another course, which is the likelier the less the light leaves it. */
  CourseFilter on(double otherLevel, double otherSlope, double prior) {
    return new CourseFilter(
        otherLevel,
        otherSlope,
        levelVariance,
        bothVariance,
        slopeVariance,
        odds,
        prior - otherSlope * otherSlope / (2 * FIRST_SLOPE));
  }

  /**
   * Some time later, before a frame is looked at.
   *
   * @param step seconds
   * @param left what is left of the slope, 0 to 1
   * @param run how long the slope of now would have to last for what it does meanwhile, seconds
   * @param clouds what becomes of them meanwhile
   */
  CourseFilter after(double step, double left, double run, CloudOdds.Passing clouds) {
    double square = step * step;
    return new CourseFilter(
        level + slope * run,
        slope * left,
        levelVariance
            + step * (2 * bothVariance + step * slopeVariance)
            + SLOPE_WANDER * square * step / 3
            + LEVEL_WANDER * step,
        bothVariance + step * slopeVariance + SLOPE_WANDER * square / 2,
        slopeVariance + SLOPE_WANDER * step,
        odds.open().after(clouds),
        evidence);
  }

  /**
   * Takes in a frame as far as it is believed to show the slow light (probabilistic data
   * association: Bar-Shalom and Tse, Automatica 11, 1975).
   *
   * @param seen how far its light stands over the course, stops
   * @param noise variance of a frame, stop²
   */
  CourseFilter given(double seen, double noise) {
    double off = seen - level;
    double spread = levelVariance + noise;
    double density = Math.exp(-off * off / (2 * spread)) / Math.sqrt(2 * Math.PI * spread);
    CloudOdds now = odds.given(off, density);
    double belief = now.slow();
    double taken = belief * ((1 - belief) * Math.min(off * off, FIRST_LEVEL) - spread);
    double gainLevel = levelVariance / spread;
    double gainSlope = bothVariance / spread;
    return new CourseFilter(
        level + belief * gainLevel * off,
        slope + belief * gainSlope * off,
        levelVariance + taken * gainLevel * gainLevel,
        bothVariance + taken * gainLevel * gainSlope,
        slopeVariance + taken * gainSlope * gainSlope,
        now,
        evidence + Math.log(odds.density(off, density)));
  }

  /** At another level, with nothing known of clouds. */
  CourseFilter moved(double stops) {
    return new CourseFilter(
        level + stops,
        slope,
        levelVariance + MOVED_LEVEL,
        bothVariance,
        slopeVariance + MOVED_SLOPE,
        CloudOdds.UNKNOWN,
        evidence);
  }

  CourseFilter loosened() {
    return new CourseFilter(
        level,
        slope,
        levelVariance + LEFT_LEVEL,
        bothVariance,
        slopeVariance + LEFT_SLOPE,
        odds,
        evidence);
  }
}
