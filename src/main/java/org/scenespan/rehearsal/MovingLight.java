package org.scenespan.rehearsal;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.light.Ev;

/**
 * A scene's light over hours, and what a camera makes of it.
 *
 * @param curve the light
 * @param scatter how the frames differ in still light
 * @param zero when the curve begins; absent where the first release begins it
 */
public record MovingLight(LightCurve curve, LightScatter scatter, Optional<Instant> zero) {
  /** The light of a moment on the meter; of a curve that has not begun, its beginning. */
  Ev at(Optional<Instant> firstRelease, Instant moment) {
    return zero.or(() -> firstRelease)
        .map(from -> curve.at(Duration.between(from, moment).toNanos() / 1e9))
        .orElseGet(() -> curve.at(0));
  }
}
