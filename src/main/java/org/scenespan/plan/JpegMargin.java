package org.scenespan.plan;

import java.util.Locale;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Stops;

/**
 * By how much less a JPEG is taken to hold than the sensor does: it clips before the raw data.
 *
 * @param stops 0 or more
 * @param why in words for the photographer
 */
public record JpegMargin(Stops stops, String why) {
  /**
   * Raw files hold half a stop to a stop more than the camera's JPEG [practice]: the most of it.
   */
  private static final double UNKNOWN_HEADROOM_STOPS = 1;

  public static final JpegMargin UNMEASURED =
      new JpegMargin(
          new Stops(UNKNOWN_HEADROOM_STOPS),
          String.format(
              Locale.ROOT,
              "JPEGs of a camera that was not measured: %.1f stop of margin is kept, since they clip"
                  + " before the raw data; scenespan calibrate makes it less.",
              UNKNOWN_HEADROOM_STOPS));

  public JpegMargin {
    if (!(stops.value() >= 0 && stops.value() <= 8)) {
      throw new IllegalArgumentException("margin (" + stops.value() + " stops) must be 0 to 8");
    }
  }

  /**
   * What is left of the margin once a camera was measured: the headroom of the channel that has
   * most, with its spread, and what its response does not tell.
   */
  public static JpegMargin of(CameraProfile camera) {
    if (!camera.hasResponse()) {
      return UNMEASURED;
    }
    double residual =
        camera.channels().stream()
            .mapToDouble(CameraProfile.Channel::residualStops)
            .max()
            .orElseThrow();
    boolean paired = camera.channels().stream().allMatch(channel -> channel.headroom().isPresent());
    double headroom =
        camera.channels().stream()
            .flatMap(channel -> channel.headroom().stream())
            .mapToDouble(one -> one.stops() + one.spreadStops())
            .max()
            .orElse(UNKNOWN_HEADROOM_STOPS);
    Stops stops =
        new Stops(
            Math.rint(100 * ((paired ? Math.max(0, headroom) : UNKNOWN_HEADROOM_STOPS) + residual))
                / 100);
    return new JpegMargin(
        stops,
        String.format(
            Locale.ROOT,
            paired
                ? "JPEGs by the measured response of %s: %.2f stops of margin are kept, by which"
                    + " they clip before its raw data."
                : "JPEGs by the measured response of %s: %.2f stops of margin are kept, since they"
                    + " clip before its raw data; scenespan calibrate with raw pairs tells by how"
                    + " much.",
            camera.camera(),
            stops.value()));
  }

  /** The sensor as its JPEGs have it: what is white in them fills only a part of its well. */
  public NoiseModel of(NoiseModel sensor) {
    return new NoiseModel(
        sensor.fullWell() / stops.ratio(), sensor.readNoise(), sensor.bits(), sensor.baseIso());
  }
}
