package org.scenespan.frame;

import java.util.Optional;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/**
 * What a file says of how it was taken. Each part is absent where the file has none or has nonsense
 * (ISO 0, a zero date).
 *
 * @param orientation Exif's 1 to 8
 * @param automatics what the camera chose by itself
 */
public record FrameMetadata(
    Optional<Shutter> shutter,
    Optional<Aperture> aperture,
    Optional<Iso> iso,
    Optional<Stops> compensation,
    Optional<CaptureTime> capturedAt,
    int orientation,
    Optional<String> camera,
    Automatics automatics) {
  public static final FrameMetadata NONE =
      new FrameMetadata(
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          1,
          Optional.empty());

  public FrameMetadata {
    if (!(orientation >= 1 && orientation <= 8)) {
      throw new IllegalArgumentException("orientation (" + orientation + ") must be 1 to 8");
    }
  }

  /** Of a file that does not say what the camera chose by itself. */
  public FrameMetadata(
      Optional<Shutter> shutter,
      Optional<Aperture> aperture,
      Optional<Iso> iso,
      Optional<Stops> compensation,
      Optional<CaptureTime> capturedAt,
      int orientation,
      Optional<String> camera) {
    this(shutter, aperture, iso, compensation, capturedAt, orientation, camera, Automatics.UNKNOWN);
  }

  /** Shutter, aperture and ISO, where the file has all three. */
  public Optional<Exposure> exposure() {
    if (shutter.isEmpty() || aperture.isEmpty() || iso.isEmpty()) {
      return Optional.empty();
    }
    return Optional.of(new Exposure(shutter.get(), aperture.get(), iso.get()));
  }
}
