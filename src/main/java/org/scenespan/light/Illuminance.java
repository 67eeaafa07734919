package org.scenespan.light;

import java.util.Locale;

/**
 * Light that falls on a surface.
 *
 * @param lux lumens a square metre, above 0
 */
public record Illuminance(double lux) implements Comparable<Illuminance> {
  /** The incident-light calibration constant C of ISO 2720 for a flat receptor, in lx·s. */
  private static final double INCIDENT = 250;

  public Illuminance {
    if (!(lux > 0 && lux <= 1e9)) {
      throw new IllegalArgumentException("illuminance (" + lux + " lx) must be above 0");
    }
  }

  /**
   * The EV at ISO 100 by incident light, log2(E·S/C) with C = 250 (ISO 2720): 2560 lx is EV 10. It
   * is right for what the light falls on, not for the sky behind it.
   */
  public Ev ev() {
    return new Ev(Stops.ofRatio(lux * Iso.EV_BASE.speed() / INCIDENT).value());
  }

  @Override
  public int compareTo(Illuminance other) {
    return Double.compare(lux, other.lux);
  }

  /** Three digits: {@code 27400 lx}, {@code 3.41 lx}, {@code 0.000645 lx}. */
  @Override
  public String toString() {
    int decimals = Math.max(0, 2 - (int) Math.floor(Math.log10(lux)));
    double unit = Math.pow(10, Math.max(0, Math.floor(Math.log10(lux)) - 2));
    return String.format(
        Locale.ROOT, "%." + decimals + "f lx", lux < 100 ? lux : Math.rint(lux / unit) * unit);
  }
}
