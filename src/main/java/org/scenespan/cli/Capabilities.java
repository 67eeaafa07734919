package org.scenespan.cli;

import org.scenespan.light.CameraRange;

/** What a device can set, in words. */
final class Capabilities {
  private Capabilities() {}

  static String of(CameraRange range) {
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
