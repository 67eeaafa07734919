package org.scenespan.plan.ramp;

/**
 * How likely a frame shows the slow light, a cloud's edge or its shade: a chain of three states in
 * time, weighed by what each would look like. An edge is over in seconds, and behind it a shade is
 * deep; so light that goes down a little and stays there, or goes down slowly, is no cloud.
 *
 * @param slow 0 to 1; what the three leave to 1 is something else: lightning, a lamp
 */
record CloudOdds(double slow, double edge, double shade) {
  /** Nothing is known of the sky. */
  static final CloudOdds UNKNOWN = new CloudOdds(0.67, 0.08, 0.25);

  /** The mean length of broken cloud's shades, of the gaps between and of edges, seconds. */
  private static final double SHADE_SECONDS = 90;

  private static final double GAP_SECONDS = 200;
  private static final double EDGE_SECONDS = 12;

  /** Broken cloud takes up to 2.3 stops away, and adds up to 0.58 at a bright edge. */
  private static final double DEEPEST_STOPS = -2.8;

  private static final double RIM_STOPS = 0.7;
  private static final double RIM_SHARE = 0.15;

  /** A shade behind its edge is at least so deep. */
  private static final double SHALLOWEST_STOPS = -0.4;

  /** How dense what is neither slow light nor cloud lies, a stop. */
  private static final double ELSE_DENSITY = 0.01;

  /** How likely something else is at all, as a density. */
  private static final double ELSE = 1e-4;

  /** The chain is stepped finer than its shortest state. */
  private static final double STEP_SECONDS = 2;

  private static final double LEAST = 0.01;
  private static final double LEAST_EDGE = 0.005;

  /**
   * What becomes of each state in some time: worked out once for all odds that it is asked of.
   *
   * @param slow what becomes of slow light, and so on
   */
  record Passing(CloudOdds slow, CloudOdds edge, CloudOdds shade) {
    static Passing of(double seconds) {
      return new Passing(
          new CloudOdds(1, 0, 0).after(seconds),
          new CloudOdds(0, 1, 0).after(seconds),
          new CloudOdds(0, 0, 1).after(seconds));
    }
  }

  /** The odds later, before a frame is looked at. */
  CloudOdds after(Passing time) {
    return new CloudOdds(
        slow * time.slow.slow + edge * time.edge.slow + shade * time.shade.slow,
        slow * time.slow.edge + edge * time.edge.edge + shade * time.shade.edge,
        slow * time.slow.shade + edge * time.edge.shade + shade * time.shade.shade);
  }

  private CloudOdds after(double seconds) {
    int steps = Math.max(1, (int) Math.ceil(seconds / STEP_SECONDS));
    double step = seconds / steps;
    CloudOdds odds = this;
    for (int i = 0; i < steps; i++) {
      double comes = odds.slow * step / GAP_SECONDS;
      double goes = odds.shade * step / SHADE_SECONDS;
      double over = odds.edge * (1 - Math.exp(-step / EDGE_SECONDS));
      odds =
          new CloudOdds(
              odds.slow + over / 2 - comes,
              odds.edge + comes + goes - over,
              odds.shade + over / 2 - goes);
    }
    return odds;
  }

  /**
   * The odds once a frame is seen.
   *
   * @param off stops by which it is off what was foretold
   * @param density how dense the foretold values lie there, if it shows the slow light
   */
  CloudOdds given(double off, double density) {
    double all = density(off, density);
    return new CloudOdds(
        slow * density / all, edge * ofEdge(off) / all, shade * ofShade(off) / all);
  }

  /** How dense frames lie there, whatever they show. */
  double density(double off, double density) {
    return slow * density + edge * ofEdge(off) + shade * ofShade(off) + ELSE;
  }

  /** The same, with nothing so sure that a frame could not change it. */
  CloudOdds open() {
    // Lightning says nothing of the three.
    double known = slow + edge + shade + Double.MIN_NORMAL;
    double first = Math.max(LEAST, slow / known);
    double second = Math.max(LEAST_EDGE, edge / known);
    double third = Math.max(LEAST, shade / known);
    double all = first + second + third;
    return new CloudOdds(first / all, second / all, third / all);
  }

  private static double ofEdge(double off) {
    if (off < DEEPEST_STOPS || off > RIM_STOPS) {
      return ELSE_DENSITY;
    }
    return off < 0 ? (1 - RIM_SHARE) / -DEEPEST_STOPS : RIM_SHARE / RIM_STOPS;
  }

  private static double ofShade(double off) {
    boolean isDeep = off >= DEEPEST_STOPS && off <= SHALLOWEST_STOPS;
    return isDeep ? 1 / (SHALLOWEST_STOPS - DEEPEST_STOPS) : ELSE_DENSITY;
  }
}
