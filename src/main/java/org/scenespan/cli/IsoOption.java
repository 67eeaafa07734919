package org.scenespan.cli;

import java.util.Optional;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Iso;
import org.scenespan.trigger.Profile;
import picocli.CommandLine.Option;

/** The ISO of a camera whose trigger cannot set it, or that has no trigger. */
final class IsoOption {
  @Option(
      names = "--iso",
      paramLabel = "ISO",
      converter = Values.IsoValue.class,
      description = "The ISO that is set by hand on the camera, where the trigger cannot set it.")
  private Iso iso;

  Optional<Iso> given() {
    return Optional.ofNullable(iso);
  }

  /**
   * Looks whether a trigger leaves the ISO to the camera. What an ISO means where the trigger only
   * releases is the command's to say.
   *
   * @throws IllegalArgumentException if an ISO is given that the trigger itself sets
   */
  void check(Profile trigger) {
    if (iso != null && !trigger.isIsoByHand() && !trigger.isReleaseOnly()) {
      throw new IllegalArgumentException(
          "--iso is for a trigger that cannot set it; trigger \""
              + trigger.name()
              + "\" can: use --highest-iso");
    }
  }

  /**
   * What can be set.
   *
   * @param profile the trigger's, with what is set by hand; absent without a trigger
   */
  CameraRange range(Optional<Profile> profile) {
    return profile.map(Profile::cameraRange).orElseGet(() -> HandOptions.range(given()));
  }
}
