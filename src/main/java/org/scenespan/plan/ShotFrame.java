package org.scenespan.plan;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Exposure;
import org.scenespan.light.Share;

/**
 * A frame that was shot before, with what tells whether it belongs to a set.
 *
 * @param file as it was named to the program
 * @param camera the model, where the file names one
 * @param takenAt by the camera's own clock
 * @param width pixels of the picture
 * @param height pixels of the picture
 * @param evidence what it says of the scene
 */
public record ShotFrame(
    String file,
    Optional<String> camera,
    Instant takenAt,
    int width,
    int height,
    Evidence evidence) {
  /** Settings closer than this are one setting: half a click. */
  private static final double SAME_STOPS = 1.0 / 6;

  /** A step from which a picture of one scene must show it. */
  private static final double TELLING_STOPS = 0.5;

  /** A tone-mapped JPEG shows 0.4 of a step of one stop at the least that was seen [practice]. */
  private static final double LEAST_SHOWN = 0.3;

  /** A median this close to saturation is at the end of the scale, stops. */
  private static final double NEAR_WHITE_STOPS = -0.3;

  /** A median this dark is noise or the last codes of a JPEG, stops. */
  private static final double NEAR_BLACK_STOPS = -9;

  /** Nothing where the file does not say when and with what it was taken. */
  public static Optional<ShotFrame> of(String file, FrameReading reading) {
    if (reading.metadata().capturedAt().isEmpty() || reading.metadata().exposure().isEmpty()) {
      return Optional.empty();
    }
    Exposure exposure = reading.metadata().exposure().get();
    return Optional.of(
        new ShotFrame(
            file,
            reading.metadata().camera(),
            reading.metadata().capturedAt().get().asInstant(),
            reading.measure().width(),
            reading.measure().height(),
            Evidence.of(exposure, reading.measure())));
  }

  boolean isExposedAs(ShotFrame other) {
    return Math.abs(stopsTo(other)) < SAME_STOPS;
  }

  private double stopsTo(ShotFrame other) {
    return evidence.exposure().ev().minus(other.evidence.exposure().ev()).value();
  }

  boolean isAsBigAs(ShotFrame other) {
    return width == other.width && height == other.height;
  }

  /** Whether the two lie no farther apart than a pause, besides the exposure itself. */
  boolean isWithin(Duration pause, ShotFrame other) {
    double seconds = Math.abs(Duration.between(takenAt, other.takenAt).toMillis() / 1000.0);
    double exposing =
        Math.max(
            evidence.exposure().shutter().seconds(), other.evidence.exposure().shutter().seconds());
    return seconds <= pause.toMillis() / 1000.0 + exposing;
  }

  /**
   * Whether the pictures differ as the exposures do. A camera that meters each frame anew gives
   * pictures that are alike however far its settings lie apart: those are no bracket.
   */
  boolean brightensAs(ShotFrame other) {
    double stops = stopsTo(other);
    if (Math.abs(stops) < TELLING_STOPS) {
      return true;
    }
    double darker = (stops > 0 ? this : other).median();
    double brighter = (stops > 0 ? other : this).median();
    return brighter - darker >= LEAST_SHOWN * Math.abs(stops)
        || brighter > NEAR_WHITE_STOPS && darker < brighter
        || darker < NEAR_BLACK_STOPS && darker < brighter;
  }

  private double median() {
    return evidence.luminance().percentile(new Share(0.5)).value();
  }
}
