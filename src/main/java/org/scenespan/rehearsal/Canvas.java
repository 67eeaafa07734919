package org.scenespan.rehearsal;

import org.scenespan.frame.Radiance;

/** A picture of linear light under construction: three values a pixel. */
final class Canvas {
  final int width;
  final int height;
  private final float[][] rows;

  Canvas(int width, int height) {
    this.width = width;
    this.height = height;
    this.rows = new float[height][3 * width];
  }

  void set(int x, int y, double[] light) {
    cover(x, y, light, 1);
  }

  /** Lays light over what is there; {@code share} 0 leaves it, 1 replaces it. */
  void cover(int x, int y, double[] light, double share) {
    float[] row = rows[y];
    for (int c = 0; c < 3; c++) {
      row[3 * x + c] = (float) Turbulence.mix(row[3 * x + c], light[c], share);
    }
  }

  /** The light between four pixels; beyond the edges, the nearest pixel's. */
  double[] sample(double x, double y) {
    double px = Math.min(width - 1.001, Math.max(0, x));
    double py = Math.min(height - 1.001, Math.max(0, y));
    int x0 = (int) px;
    int y0 = (int) py;
    double[] light = new double[3];
    for (int c = 0; c < 3; c++) {
      double top = Turbulence.mix(rows[y0][3 * x0 + c], rows[y0][3 * x0 + 3 + c], px - x0);
      double bottom =
          Turbulence.mix(rows[y0 + 1][3 * x0 + c], rows[y0 + 1][3 * x0 + 3 + c], px - x0);
      light[c] = Turbulence.mix(top, bottom, py - y0);
    }
    return light;
  }

  Radiance radiance() {
    return new Radiance(width, rows);
  }

  static double[] mixed(double[] one, double[] other, double share) {
    return new double[] {
      Turbulence.mix(one[0], other[0], share),
      Turbulence.mix(one[1], other[1], share),
      Turbulence.mix(one[2], other[2], share)
    };
  }

  static double[] scaled(double[] light, double by) {
    return new double[] {light[0] * by, light[1] * by, light[2] * by};
  }

  static double[] sum(double[] one, double[] other) {
    return new double[] {one[0] + other[0], one[1] + other[1], one[2] + other[2]};
  }
}
