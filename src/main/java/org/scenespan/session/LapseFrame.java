package org.scenespan.session;

import java.util.Optional;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * What a lapse's account keeps of a shot when it is fired, or of its frame when that is here.
 *
 * @param shot the shot's number
 * @param place on the grid, from 1
 * @param seconds when it was due, since the start
 * @param exposure as chosen, or of a frame, as it was really taken
 * @param wish how bright the picture was meant to be
 * @param file the frame's; absent of what was only fired
 * @param brightness of the frame against mid grey, where it could be measured
 */
public record LapseFrame(
    int shot,
    int place,
    double seconds,
    Exposure exposure,
    Stops wish,
    Optional<String> file,
    Optional<Stops> brightness) {
  /** An equal exposure that shares with another one what is the same: a lapse keeps thousands. */
  static Exposure shared(Exposure exposure, Exposure with) {
    return exposure.equals(with)
        ? with
        : new Exposure(
            shared(exposure.shutter(), with.shutter()),
            shared(exposure.aperture(), with.aperture()),
            shared(exposure.iso(), with.iso()));
  }

  static <T> T shared(T value, T with) {
    return value.equals(with) ? with : value;
  }
}
