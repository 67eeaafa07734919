package org.scenespan.session;

import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;

/**
 * The parts that a session runs on, real or simulated; enough to put them together again when it is
 * resumed.
 *
 * @param trigger the device profile's name or file
 * @param port the serial port; empty for a simulated trigger
 * @param folder the hot folder
 * @param raw whether raw files are expected and are what is measured
 * @param rehearsal the simulated scene and camera, where the parts are not real
 */
public record Gear(
    String trigger, String port, String folder, boolean raw, Optional<Rehearsal> rehearsal) {
  /**
   * A simulated camera before a simulated scene.
   *
   * @param scene a bundled scene's name or a Radiance file
   * @param sceneEv where the scene's log-average luminance stands
   * @param seed of all its chance: the same seed gives the same frames
   * @param toneMapped whether its JPEGs are tone-mapped and clip before its raw files
   * @param drift by how much the scene's light grows in a minute
   */
  public record Rehearsal(String scene, Ev sceneEv, long seed, boolean toneMapped, Stops drift) {
    /** Steady light, and JPEGs that are plain sRGB. */
    public Rehearsal(String scene, Ev sceneEv, long seed) {
      this(scene, sceneEv, seed, false, Stops.ZERO);
    }
  }

  /** Where the light comes from, in words. */
  public String source() {
    return rehearsal.map(it -> "simulated: " + it.scene()).orElse("camera");
  }
}
