package org.scenespan.light;

/**
 * What a camera and its trigger can set.
 *
 * @param shutters the times
 * @param lowestIso the base sensitivity, where one frame holds the most
 * @param highestIso the highest sensitivity
 * @param widest the widest aperture
 * @param smallest the smallest aperture (the biggest f-number)
 */
public record CameraRange(
    ShutterLadder shutters, Iso lowestIso, Iso highestIso, Aperture widest, Aperture smallest) {
  public CameraRange {
    if (lowestIso.compareTo(highestIso) > 0) {
      throw new IllegalArgumentException(
          "lowest ISO (" + lowestIso + ") must not be above the highest, " + highestIso);
    }
    if (widest.compareTo(smallest) > 0) {
      throw new IllegalArgumentException(
          "widest aperture (" + widest + ") must not be smaller than the smallest, " + smallest);
    }
  }
}
