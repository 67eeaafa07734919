package org.scenespan.sky;

/**
 * The air that bends the light of a low sun.
 *
 * @param pressureMillibars yearly average pressure at the place, 0 to 1100
 * @param celsius yearly average temperature, −100 to 60 °C
 */
public record Air(double pressureMillibars, double celsius) {
  /** The standard of the almanacs, 1010 mbar and 10 °C. */
  public static final Air STANDARD = new Air(1010, 10);

  public Air {
    if (!(pressureMillibars >= 0 && pressureMillibars <= 1100)) {
      throw new IllegalArgumentException("pressure (" + pressureMillibars + ") must be 0 to 1100");
    }
    if (!(celsius >= -100 && celsius <= 60)) {
      throw new IllegalArgumentException("temperature (" + celsius + ") must be -100 to 60");
    }
  }
}
