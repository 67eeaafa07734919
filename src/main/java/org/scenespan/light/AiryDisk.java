package org.scenespan.light;

/**
 * What diffraction makes of a point: the Airy disk, to its first dark ring 2.44 λ N across (M. Born
 * and E. Wolf, Principles of Optics, 7th edition, 8.5.2: radius 0.61 λ over the numerical aperture,
 * which for a distant subject is 1/(2N)).
 */
public final class AiryDisk {
  /** Green, where the eye sees finest, millimetres. */
  private static final double WAVELENGTH = 0.00055;

  private static final double FACTOR = 2.44;

  private AiryDisk() {}

  /** The disk's diameter on the sensor, millimetres. */
  public static double millimetres(Aperture aperture) {
    return FACTOR * WAVELENGTH * aperture.number();
  }

  /**
   * The f-number whose disk is as wide as a circle.
   *
   * @param circleMillimetres above 0
   */
  public static double number(double circleMillimetres) {
    if (!(circleMillimetres > 0 && circleMillimetres < 10)) {
      throw new IllegalArgumentException(
          "circle (" + circleMillimetres + " mm) must be above 0 and below 10 mm");
    }
    return circleMillimetres / (FACTOR * WAVELENGTH);
  }
}
