package org.scenespan.plan.hand;

import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Latitude;
import org.scenespan.light.Shutter;

/**
 * How far the dials of a camera on manual may be turned. Light is bought with the shutter first and
 * given back by ISO first; the aperture stays.
 */
public record DialRange(Shutter shortest, Shutter longest, Iso lowest, Iso highest) {
  /** So much of a click may be missing at an end: the names on dials are rounded. */
  private static final double ROUNDING = 0.1;

  public static DialRange of(Latitude latitude) {
    return new DialRange(
        latitude.darkest().shutter(),
        latitude.brightest().shutter(),
        latitude.darkest().iso(),
        latitude.brightest().iso());
  }

  /**
   * Where the dials stand after some clicks; fewer where they end.
   *
   * @param clicks brighter; below 0 darker
   */
  public Exposure turned(Exposure from, int clicks, int clicksAStop) {
    int first = clicks > 0 ? shutterClicks(from, clicks, clicksAStop) : 0;
    int iso = isoClicks(from, clicks - first, clicksAStop);
    int shutter = clicks > 0 ? first : shutterClicks(from, clicks - iso, clicksAStop);
    return new Exposure(
        shutter == 0
            ? from.shutter()
            : new Shutter(from.shutter().seconds() * Math.pow(2, (double) shutter / clicksAStop)),
        from.aperture(),
        iso == 0
            ? from.iso()
            : new Iso(from.iso().speed() * Math.pow(2, (double) iso / clicksAStop)));
  }

  private int shutterClicks(Exposure from, int clicks, int clicksAStop) {
    double longer = from.shutter().tv() - longest.tv();
    double shorter = shortest.tv() - from.shutter().tv();
    return within(clicks, longer, shorter, clicksAStop);
  }

  private int isoClicks(Exposure from, int clicks, int clicksAStop) {
    double higher = highest.sv() - from.iso().sv();
    double lower = from.iso().sv() - lowest.sv();
    return within(clicks, higher, lower, clicksAStop);
  }

  private static int within(int clicks, double up, double down, int clicksAStop) {
    int most = (int) Math.floor(Math.max(0, up) * clicksAStop + ROUNDING);
    int least = -(int) Math.floor(Math.max(0, down) * clicksAStop + ROUNDING);
    return Math.max(least, Math.min(most, clicks));
  }
}
