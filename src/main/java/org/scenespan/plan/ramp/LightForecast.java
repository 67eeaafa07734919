package org.scenespan.plan.ramp;

import java.time.Duration;
import java.time.Instant;
import org.scenespan.light.Ev;
import org.scenespan.sky.ClearSky;
import org.scenespan.sky.Place;
import org.scenespan.sky.Sun;

/**
 * How the light of the place should go. Only its course counts, not its level: what the frames
 * measure tells how far the picture's part stands over or under it.
 */
@FunctionalInterface
public interface LightForecast {
  /**
   * The light to expect.
   *
   * @param seconds since the lapse's start, before it too
   */
  Ev at(double seconds);

  /** The light of a clear sky on level ground at a place. */
  static LightForecast clearSky(Place place, Instant start) {
    return seconds ->
        ClearSky.illuminance(Sun.at(place, start.plus(Duration.ofNanos(Math.round(seconds * 1e9)))))
            .ev();
  }
}
