package org.scenespan.plan.ramp;

/**
 * Locally weighted regression (Cleveland, JASA 74, 1979): at each point a line through its nearest
 * neighbours, weighted by the cube of one minus the cube of their distance.
 */
final class LocalLine {
  private LocalLine() {}

  /**
   * @param seconds rising
   * @param count how many neighbours, itself included; fewer where there are no more
   */
  static double[] smooth(double[] seconds, double[] values, int count) {
    int size = values.length;
    int window = Math.min(count, size);
    double[] smooth = new double[size];
    int from = 0;
    for (int i = 0; i < size; i++) {
      while (from + window < size
          && seconds[from + window] - seconds[i] < seconds[i] - seconds[from]) {
        from++;
      }
      smooth[i] = at(seconds, values, i, from, from + window);
    }
    return smooth;
  }

  private static double at(double[] seconds, double[] values, int i, int from, int to) {
    double far = Math.max(seconds[i] - seconds[from], seconds[to - 1] - seconds[i]);
    double reach = far * (1 + 1e-9) + 1e-12;
    double s0 = 0;
    double s1 = 0;
    double s2 = 0;
    double t0 = 0;
    double t1 = 0;
    for (int j = from; j < to; j++) {
      double x = (seconds[j] - seconds[i]) / reach;
      double near = 1 - Math.abs(x * x * x);
      double weight = near * near * near;
      s0 += weight;
      s1 += weight * x;
      s2 += weight * x * x;
      t0 += weight * values[j];
      t1 += weight * x * values[j];
    }
    double spread = s0 * s2 - s1 * s1;
    return spread > 1e-12 * s0 * s0 ? (s2 * t0 - s1 * t1) / spread : t0 / s0;
  }
}
