package org.scenespan.frame;

import java.util.List;
import java.util.Optional;
import org.scenespan.light.Exposure;
import org.scenespan.light.Shutter;

/**
 * Real shutter times of a camera, relative to one of them: light tells ratios only.
 *
 * @param reference the shutter whose exact time is taken to be real
 * @param errors of each shutter that was measured, the reference included
 */
public record MeasuredShutters(Shutter reference, List<ShutterError> errors) {
  /** A camera has fewer times than this. */
  private static final int MOST = 200;

  /** A twentieth of a third stop: the same engraved time. */
  private static final double SAME_STOPS = 1.0 / 60;

  public MeasuredShutters {
    errors = List.copyOf(errors);
    if (!(errors.size() >= 2 && errors.size() <= MOST)) {
      throw new IllegalArgumentException("shutters (" + errors.size() + ") must be 2 to 200");
    }
  }

  public Optional<ShutterError> of(Shutter shutter) {
    return errors.stream()
        .filter(error -> Math.abs(error.shutter().tv() - shutter.tv()) <= SAME_STOPS)
        .findFirst();
  }

  /** The exposure with the shutter's real time, where it was measured. */
  public Exposure real(Exposure exposure) {
    return of(exposure.shutter())
        .map(
            error ->
                exposure.withShutter(
                    new Shutter(exposure.shutter().seconds() * error.error().ratio())))
        .orElse(exposure);
  }
}
