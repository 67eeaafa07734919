package org.scenespan.cli;

import org.scenespan.light.CameraRange;
import org.scenespan.trigger.Profile;

/** What a device can set, in words. */
final class Capabilities {
  private Capabilities() {}

  static String of(Profile profile) {
    if (profile.isReleaseOnly()) {
      return "nothing; the camera keeps its own exposure";
    }
    String byHand =
        profile.isIsoByHand() && profile.isApertureByHand()
            ? "; ISO and aperture by hand on the camera"
            : "";
    return of(profile.cameraRange()) + byHand;
  }

  private static String of(CameraRange range) {
    String steps =
        range.shutters().stepSeconds() == 0
            ? "in third stops"
            : "in steps of " + range.shutters().stepSeconds() + " s";
    return range.shutters().shortest()
        + " to "
        + range.shutters().longest()
        + " "
        + steps
        + ", "
        + range.lowestIso()
        + " to "
        + range.highestIso()
        + ", "
        + range.widest()
        + " to "
        + range.smallest();
  }
}
