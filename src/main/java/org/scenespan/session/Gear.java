package org.scenespan.session;

import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;
import org.scenespan.plan.hand.Hand;

/**
 * The parts that a session runs on, real or simulated; enough to put them together again when it is
 * resumed.
 *
 * @param trigger the device profile's name or file
 * @param port the serial port; empty for a simulated trigger
 * @param folder the hot folder
 * @param raw whether raw files are expected and are what is measured
 * @param jpegFirst whether, where they are, the JPEG of a press answers first and the raw file
 *     replaces its numbers when it comes
 * @param own how the camera keeps its own exposure; absent where the trigger sets it
 * @param hand how the camera is set by hand, where there is no trigger at all
 * @param rehearsal the simulated scene and camera, where the parts are not real
 */
public record Gear(
    String trigger,
    String port,
    String folder,
    boolean raw,
    boolean jpegFirst,
    Optional<Own> own,
    Optional<Hand> hand,
    Optional<Rehearsal> rehearsal) {
  public Gear {
    if (jpegFirst && !raw) {
      throw new IllegalArgumentException("a JPEG is first only where raw files are expected");
    }
  }

  /** Parts that no hand sets. */
  public Gear(
      String trigger,
      String port,
      String folder,
      boolean raw,
      boolean jpegFirst,
      Optional<Own> own,
      Optional<Rehearsal> rehearsal) {
    this(trigger, port, folder, raw, jpegFirst, own, Optional.empty(), rehearsal);
  }

  /** A camera that is set by hand, without a trigger. */
  public static Gear byHand(String folder, boolean raw, boolean jpegFirst, Hand hand) {
    return new Gear(
        "", "", folder, raw, jpegFirst, Optional.empty(), Optional.of(hand), Optional.empty());
  }

  /** A trigger that sets the exposure, and a camera of which one file a press is measured. */
  public Gear(
      String trigger, String port, String folder, boolean raw, Optional<Rehearsal> rehearsal) {
    this(trigger, port, folder, raw, false, Optional.empty(), rehearsal);
  }

  /**
   * A camera that keeps its own exposure, or brackets by itself, behind a trigger that only
   * releases.
   *
   * @param framesPerRelease how many frames one release brings, 1 to 99
   */
  public record Own(int framesPerRelease) {
    public Own {
      if (!(framesPerRelease >= 1 && framesPerRelease <= 99)) {
        throw new IllegalArgumentException(
            "frames per release (" + framesPerRelease + ") must be 1 to 99");
      }
    }
  }

  /**
   * A simulated camera before a simulated scene.
   *
   * @param scene a bundled scene's name or a Radiance file
   * @param sceneEv where the scene's log-average luminance stands
   * @param seed of all its chance: the same seed gives the same frames
   * @param toneMapped whether its JPEGs are tone-mapped and clip before its raw files
   * @param drift by how much the scene's light grows in a minute
   * @param light how it goes over hours, for a lapse
   */
  public record Rehearsal(
      String scene, Ev sceneEv, long seed, boolean toneMapped, Stops drift, Optional<Light> light) {
    public Rehearsal(String scene, Ev sceneEv, long seed, boolean toneMapped, Stops drift) {
      this(scene, sceneEv, seed, toneMapped, drift, Optional.empty());
    }

    /** Steady light, and JPEGs that are plain sRGB. */
    public Rehearsal(String scene, Ev sceneEv, long seed) {
      this(scene, sceneEv, seed, false, Stops.ZERO);
    }
  }

  /**
   * A simulated scene's light over hours: of a clear sky at a place from a moment on, or of a
   * table.
   *
   * @param table a file with the columns seconds,ev; absent where the sky makes the light
   * @param sky the place, and the moment at which the lapse begins
   * @param clouds whether broken cloud passes, drawn by the seed
   * @param lens the most by which the lens makes a frame brighter or darker
   */
  public record Light(
      Optional<String> table, Optional<LapseSetup.Sky> sky, boolean clouds, Stops lens) {
    public Light {
      if (table.isPresent() == sky.isPresent()) {
        throw new IllegalArgumentException("light is either a table's or a sky's");
      }
      if (sky.isPresent() && sky.get().from().isEmpty()) {
        throw new IllegalArgumentException("a simulated sky needs a moment to begin with");
      }
    }
  }

  /** How many frames one release brings. */
  int framesPerRelease() {
    return own.map(Own::framesPerRelease).orElse(1);
  }

  /** Where the light comes from, in words. */
  public String source() {
    return rehearsal.map(it -> "simulated: " + it.scene()).orElse("camera");
  }
}
