package org.scenespan.frame;

import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/**
 * By how much a shutter's real time differs from its exact one.
 *
 * @param shutter as it is set; 1/125 is exactly 1/128 s
 * @param error more light than the exact time would give, relative to the reference shutter
 * @param standardError stops
 * @param frames with this shutter
 */
public record ShutterError(Shutter shutter, Stops error, double standardError, int frames) {
  /** No shutter that works is off by more. */
  private static final double MOST_STOPS = 3;

  public ShutterError {
    if (!(Math.abs(error.value()) <= MOST_STOPS)) {
      throw new IllegalArgumentException(
          "error of " + shutter + " (" + error.value() + " stops) must be 3 or less");
    }
    if (!(standardError >= 0 && standardError <= MOST_STOPS)) {
      throw new IllegalArgumentException(
          "standard error of " + shutter + " (" + standardError + ") must be 0 to 3");
    }
    if (!(frames >= 1)) {
      throw new IllegalArgumentException("frames (" + frames + ") must be 1 or more");
    }
  }
}
