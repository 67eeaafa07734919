package org.scenespan.rehearsal;

import org.scenespan.frame.ToneResponse;
import org.scenespan.light.Stops;

/**
 * How the simulated camera makes a JPEG of its raw data.
 *
 * @param headroom by how much the JPEG clips before the raw data, 0 to 3 stops
 * @param contrast how much of an S lies over the sRGB curve, -0.5 to 1: it darkens the shadows and
 *     brightens the highlights; a negative one lifts the shadows
 */
public record Rendering(Stops headroom, double contrast) {
  /** sRGB of linear light that clips where the sensor does. */
  public static final Rendering PLAIN = new Rendering(Stops.ZERO, 0);

  /** As cameras do it: 0.7 stop short of the raw data, with a marked S. */
  public static final Rendering TONED = new Rendering(new Stops(0.7), 0.5);

  public Rendering {
    if (!(headroom.value() >= 0 && headroom.value() <= 3)) {
      throw new IllegalArgumentException(
          "headroom (" + headroom.value() + " stops) must be 0 to 3");
    }
    if (!(contrast >= -0.5 && contrast <= 1)) {
      throw new IllegalArgumentException("contrast (" + contrast + ") must be -0.5 to 1");
    }
  }

  /** Whether light is white in the JPEG. */
  boolean clips(double light) {
    return light * headroom.ratio() >= 1;
  }

  /**
   * The encoded value of light, 0 to 1 on both sides.
   *
   * @param light relative to the sensor's saturation
   */
  public double encoded(double light) {
    double v = ToneResponse.linearToSrgb(Math.max(0, Math.min(1, light * headroom.ratio())));
    double s = v * v * (3 - 2 * v);
    return (1 - contrast) * v + contrast * s;
  }
}
