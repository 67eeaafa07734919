package org.scenespan.rehearsal;

/**
 * Smooth random fields (K. Perlin, "An image synthesizer", SIGGRAPH 1985), the same on every
 * machine: only whole-number mixing and the four operations.
 */
final class Turbulence {
  private final long seed;

  Turbulence(long seed) {
    this.seed = seed;
  }

  /** A random number of a place, 0 to 1, not smooth. */
  double at(long x, long y) {
    long z = seed + x * 0x9e3779b97f4a7c15L + y * 0xd1b54a32d192ed03L;
    z = (z ^ z >>> 30) * 0xbf58476d1ce4e5b9L;
    z = (z ^ z >>> 27) * 0x94d049bb133111ebL;
    return ((z ^ z >>> 31) >>> 11) * 0x1p-53;
  }

  /** A smooth field, about −1 to 1, with features one unit apart. */
  double smooth(double x, double y) {
    long x0 = (long) Math.floor(x);
    long y0 = (long) Math.floor(y);
    double fx = x - x0;
    double fy = y - y0;
    double u = fx * fx * fx * (fx * (fx * 6 - 15) + 10);
    double v = fy * fy * fy * (fy * (fy * 6 - 15) + 10);
    double top = mix(slope(x0, y0, fx, fy), slope(x0 + 1, y0, fx - 1, fy), u);
    double bottom = mix(slope(x0, y0 + 1, fx, fy - 1), slope(x0 + 1, y0 + 1, fx - 1, fy - 1), u);
    return 1.5 * mix(top, bottom, v);
  }

  /** Octaves of the smooth field, each twice as fine and half as strong; about −1 to 1. */
  double sum(double x, double y, int octaves) {
    double sum = 0;
    double strength = 0.5;
    double px = x;
    double py = y;
    for (int i = 0; i < octaves; i++) {
      sum += strength * smooth(px, py);
      strength /= 2;
      px = 2 * px + 17.3;
      py = 2 * py + 9.1;
    }
    return sum * 1.3;
  }

  /** Octaves folded at their zeroes, as crests and gullies run; about 0 to 1. */
  double crests(double x, double y, int octaves) {
    double sum = 0;
    double strength = 0.5;
    double px = x;
    double py = y;
    for (int i = 0; i < octaves; i++) {
      double fold = 1 - Math.abs(smooth(px, py));
      sum += strength * fold * fold;
      strength *= 0.48;
      px = 2.03 * px + 5.7;
      py = 2.03 * py + 11.9;
    }
    return sum;
  }

  private double slope(long x, long y, double dx, double dy) {
    return (2 * at(x, y) - 1) * dx + (2 * at(x + 7919, y - 104_729) - 1) * dy;
  }

  static double mix(double one, double other, double share) {
    return one + (other - one) * share;
  }

  /** 0 below the first edge, 1 above the second, smooth between. */
  static double step(double from, double to, double x) {
    double t = Math.min(1, Math.max(0, (x - from) / (to - from)));
    return t * t * (3 - 2 * t);
  }
}
