package org.scenespan.light;

import java.util.Optional;

/**
 * What the picture allows, whatever the camera could do.
 *
 * @param aperture the aperture, fixed for the depth of field
 * @param shortest the shortest shutter that the picture's motion asks for
 * @param longest the longest shutter that the picture's motion allows
 * @param highestIso the highest ISO that the picture's noise allows; where there is none, the
 *     camera's lowest ISO is kept
 */
public record PictureLimits(
    Aperture aperture,
    Optional<Shutter> shortest,
    Optional<Shutter> longest,
    Optional<Iso> highestIso) {
  public PictureLimits {
    if (shortest.isPresent()
        && longest.isPresent()
        && shortest.get().compareTo(longest.get()) > 0) {
      throw new IllegalArgumentException(
          "shortest shutter ("
              + shortest.get()
              + ") must not be longer than the longest, "
              + longest.get());
    }
  }

  public static PictureLimits at(Aperture aperture) {
    return new PictureLimits(aperture, Optional.empty(), Optional.empty(), Optional.empty());
  }

  public PictureLimits withLongest(Shutter shutter) {
    return new PictureLimits(aperture, shortest, Optional.of(shutter), highestIso);
  }

  public PictureLimits withShortest(Shutter shutter) {
    return new PictureLimits(aperture, Optional.of(shutter), longest, highestIso);
  }

  public PictureLimits withHighestIso(Iso iso) {
    return new PictureLimits(aperture, shortest, longest, Optional.of(iso));
  }
}
