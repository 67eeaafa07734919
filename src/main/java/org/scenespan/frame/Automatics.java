package org.scenespan.frame;

import java.util.Optional;

/**
 * What a file says that the camera chose by itself; absent where it does not say.
 *
 * @param exposure whether shutter, aperture or both
 * @param whiteBalance whether the white balance
 */
public record Automatics(Optional<Boolean> exposure, Optional<Boolean> whiteBalance) {
  public static final Automatics UNKNOWN = new Automatics(Optional.empty(), Optional.empty());
}
