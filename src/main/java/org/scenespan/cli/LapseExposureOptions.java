package org.scenespan.cli;

import java.util.Optional;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.trigger.Profile;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Within what a lapse exposes, and by what its first frame is taken. */
final class LapseExposureOptions {
  /** Wide enough for night, and not yet a lens's softest [practice]. */
  private static final Aperture USUAL_APERTURE = Aperture.ofNominal(2.8);

  /** A device that holds a camera's release does so to the millisecond. */
  private static final double BULB_STEP_SECONDS = 0.001;

  /** What a dark twilight needs at f/2.8 and ten seconds. */
  private static final Iso USUAL_ISO = Iso.ofNominal(6400);

  @Option(
      names = "--longest",
      paramLabel = "SHUTTER",
      converter = Values.ShutterValue.class,
      description = "The longest shutter. Default: what interval and gap leave.")
  private Shutter longest;

  @Option(
      names = "--highest-iso",
      paramLabel = "ISO",
      converter = Values.IsoValue.class,
      description =
          "How far ISO may rise where the longest shutter binds. Default: 6400, if the camera has"
              + " it.")
  private Iso highestIso;

  @Option(
      names = "--aperture",
      paramLabel = "F",
      converter = Values.ApertureValue.class,
      description =
          "The aperture, which never moves. Default: f/2.8, or where the trigger cannot set it, the"
              + " one that its profile says is set by hand.")
  private Aperture aperture;

  @Mixin private IsoOption iso;

  @Option(
      names = "--start",
      paramLabel = "SHUTTER",
      converter = Values.ShutterValue.class,
      description =
          "The first shutter, at the lowest ISO. Default: by the trigger's meter, or by the sky.")
  private Shutter start;

  @Option(
      names = "--bulb",
      description =
          "The trigger times the shutter to the millisecond, with the camera on bulb: no steps.")
  private boolean bulb;

  /**
   * Settles the aperture, before the limits are asked.
   *
   * @return the trigger's profile with what is set by hand
   * @throws IllegalArgumentException if an ISO is given that the trigger itself sets
   */
  Profile settle(Profile loaded) {
    iso.check(loaded);
    if (aperture == null) {
      CameraRange range = loaded.cameraRange();
      aperture =
          loaded.isApertureByHand() || USUAL_APERTURE.compareTo(range.widest()) < 0
              ? range.widest()
              : USUAL_APERTURE;
    }
    return loaded.byHand(iso.given(), Optional.of(aperture));
  }

  /**
   * Looks whether all that is asked can be had without a trigger.
   *
   * @throws IllegalArgumentException if not
   */
  void checkByHand() {
    if (start != null || bulb) {
      throw new IllegalArgumentException(
          "--start and --bulb are for a trigger; by hand the first frame is exposed as you set it");
    }
  }

  /**
   * What can be set.
   *
   * @param profile the trigger's, settled; absent by hand
   */
  CameraRange range(Optional<Profile> profile) {
    CameraRange range = iso.range(profile);
    ShutterLadder ladder = range.shutters();
    if (!bulb || ladder.stepSeconds() > 0) {
      return range;
    }
    return new CameraRange(
        new ShutterLadder(ladder.shortest(), ladder.longest(), BULB_STEP_SECONDS),
        range.lowestIso(),
        range.highestIso(),
        range.widest(),
        range.smallest());
  }

  PictureLimits picture(CameraRange range) {
    return new PictureLimits(
        aperture(),
        Optional.empty(),
        Optional.ofNullable(longest),
        Optional.of(highestIso != null ? highestIso : usualIso(range)));
  }

  /** What the first frame is taken by, as far as it was said. */
  Optional<Exposure> first(CameraRange range, PlanFileOption plan) {
    return plan.first(start, aperture(), range);
  }

  private Aperture aperture() {
    return aperture != null ? aperture : USUAL_APERTURE;
  }

  private static Iso usualIso(CameraRange range) {
    return USUAL_ISO.compareTo(range.highestIso()) > 0 ? range.highestIso() : USUAL_ISO;
  }
}
