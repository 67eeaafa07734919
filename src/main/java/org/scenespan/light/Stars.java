package org.scenespan.light;

/**
 * How long stars stay points on a still tripod, by three rules of the trade [practice].
 *
 * @param lens the focal length f
 * @param aperture the opening N
 * @param sensor for the pitch p in µm
 * @param declinationDegrees of the stars nearest to the celestial equator in the picture, −89 to
 *     89; 0 is the strictest
 */
public record Stars(
    FocalLength lens, Aperture aperture, SensorFormat sensor, double declinationDegrees) {
  /** How fast the sky turns: 360° in a sidereal day of 86 164 s, in radians a second. */
  private static final double TURN = 2 * Math.PI / 86_164;

  public Stars {
    if (!(declinationDegrees >= -89 && declinationDegrees <= 89)) {
      throw new IllegalArgumentException(
          "declination (" + declinationDegrees + ") must be -89 to 89 degrees");
    }
  }

  /** The old rule for small prints, 500 / f with f as on 36 × 24 mm, in seconds. */
  public double ruleOf500() {
    return 500 / (lens.millimetres() * sensor.crop());
  }

  /** The simple form by aperture and pitch, (35 N + 30 p) / f, in seconds. */
  public double simple() {
    return (35 * aperture.number() + 30 * sensor.pitchMicrometres()) / lens.millimetres();
  }

  /**
   * The full form, k (16.9 N + 0.10 f + 13.7 p) / (f cos δ), in seconds.
   *
   * @param k 1 for points at full size, 2 for barely seen trails, 3 for trails on small prints
   */
  public double full(double k) {
    if (!(k > 0 && k <= 10)) {
      throw new IllegalArgumentException("k (" + k + ") must be above 0 and at most 10");
    }
    double f = lens.millimetres();
    return k
        * (16.9 * aperture.number() + 0.10 * f + 13.7 * sensor.pitchMicrometres())
        / (f * Math.cos(Math.toRadians(declinationDegrees)));
  }

  /** How fast a star runs over the sensor, in µm a second: f · 0.0729 at the equator. */
  public double driftMicrometresPerSecond() {
    return lens.millimetres() * 1000 * TURN * Math.cos(Math.toRadians(declinationDegrees));
  }
}
