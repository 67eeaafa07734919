package org.scenespan.sky;

/** The altitudes of the sun's centre that divide day, the twilights and night. */
public enum Horizon {
  /** Rise and set: the upper limb on a flat horizon, 34′ of refraction and 16′ of half a disc. */
  RISE_AND_SET(-50.0 / 60),
  /** Civil twilight ends: the brightest stars show. */
  CIVIL(-6),
  /** Nautical twilight ends: the horizon at sea is lost. */
  NAUTICAL(-12),
  /** Astronomical twilight ends: night. */
  ASTRONOMICAL(-18);

  private final double altitudeDegrees;

  Horizon(double altitudeDegrees) {
    this.altitudeDegrees = altitudeDegrees;
  }

  /** The altitude of the sun's centre without refraction, in degrees. */
  public double altitudeDegrees() {
    return altitudeDegrees;
  }
}
