package org.scenespan.light;

/**
 * What is sharp when a lens is focused at a distance: thin-lens arithmetic with H = f²/(N·c) + f,
 * near = s(H − f)/(H + s − 2f) and far = s(H − f)/(H − s), all from the lens.
 *
 * @param lens the focal length f
 * @param aperture the opening N, computed with its exact number
 * @param circleMillimetres the largest blur that still looks sharp, c, above 0 and below 1 mm
 * @param focus the distance focused at, s
 */
public record DepthOfField(
    FocalLength lens, Aperture aperture, double circleMillimetres, Distance focus) {
  public DepthOfField {
    requireCircle(circleMillimetres);
    requireBeyond(lens, focus);
  }

  private static void requireCircle(double circle) {
    if (!(circle > 0 && circle < 1)) {
      throw new IllegalArgumentException(
          "circle of confusion (" + circle + " mm) must be above 0 and below 1 mm");
    }
  }

  private static void requireBeyond(FocalLength lens, Distance distance) {
    if (!(distance.metres() * 1000 > lens.millimetres())) {
      throw new IllegalArgumentException(
          "distance (" + distance + ") must be beyond the focal length, " + lens);
    }
  }

  /** The nearest focus that still holds infinity. */
  public static Distance hyperfocal(FocalLength lens, Aperture aperture, double circle) {
    requireCircle(circle);
    double f = lens.millimetres();
    return new Distance((f * f / (aperture.number() * circle) + f) / 1000);
  }

  public Distance hyperfocal() {
    return hyperfocal(lens, aperture, circleMillimetres);
  }

  /** The nearest that is sharp. */
  public Distance near() {
    double h = hyperfocal().metres();
    double f = lens.millimetres() / 1000;
    double s = focus.metres();
    return new Distance(focus.isInfinite() ? h - f : s * (h - f) / (h + s - 2 * f));
  }

  /** The farthest that is sharp; infinite when focused at the hyperfocal distance or beyond. */
  public Distance far() {
    double h = hyperfocal().metres();
    double f = lens.millimetres() / 1000;
    double s = focus.metres();
    return s >= h * (1 - 1e-9) ? Distance.INFINITE : new Distance(s * (h - f) / (h - s));
  }

  /**
   * What holds everything from near to far: the two limits above solved for s and N. Their inverses
   * add to 2/s and differ by 2(s − f)/(s(H − f)).
   */
  public static Holding holding(
      FocalLength lens, double circleMillimetres, Distance near, Distance far) {
    requireCircle(circleMillimetres);
    requireBeyond(lens, near);
    if (!(far.compareTo(near) > 0)) {
      throw new IllegalArgumentException(
          "the far end to be sharp (" + far + ") must be beyond the near end, " + near);
    }
    double f = lens.millimetres() / 1000;
    double inverseFar = far.isInfinite() ? 0 : 1 / far.metres();
    double s = 2 / (1 / near.metres() + inverseFar);
    double beyond = 2 * (s - f) / (s * (1 / near.metres() - inverseFar));
    return new Holding(new Distance(s), f * f / (circleMillimetres / 1000 * beyond));
  }

  /**
   * Where to focus and how far to stop down.
   *
   * @param focus the distance to focus at
   * @param number the least f-number that holds both ends; it may be more than a lens has
   */
  public record Holding(Distance focus, double number) {}
}
