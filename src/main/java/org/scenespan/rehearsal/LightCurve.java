package org.scenespan.rehearsal;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import org.scenespan.light.Ev;
import org.scenespan.sky.ClearSky;
import org.scenespan.sky.Place;
import org.scenespan.sky.Sun;

/** The light of a scene over hours, as its EV at ISO 100. */
@FunctionalInterface
public interface LightCurve {
  /**
   * The light at a moment.
   *
   * @param seconds since the start
   */
  Ev at(double seconds);

  /** Light that does not change. */
  static LightCurve steady(Ev ev) {
    return seconds -> ev;
  }

  /** What the sun and a clear sky without a moon give on level ground. */
  static LightCurve clearSky(Place place, Instant start) {
    return seconds ->
        ClearSky.illuminance(Sun.at(place, start.plus(Duration.ofNanos(Math.round(seconds * 1e9)))))
            .ev();
  }

  /**
   * Reads a table with the columns {@code seconds,ev}; straight lines run between its rows.
   *
   * @throws IllegalArgumentException if it cannot be read, naming the line
   */
  static LightTable read(Path csv) {
    return LightTable.read(csv);
  }

  /** The same light under broken cloud, drawn by a seed. */
  default LightCurve under(BrokenCloud cloud) {
    return seconds -> at(seconds).plus(cloud.at(seconds));
  }
}
