package org.scenespan.rehearsal;

import java.time.Duration;
import java.time.ZoneOffset;
import java.util.Optional;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Stops;

/**
 * How the simulated camera and trigger behave.
 *
 * @param noise the sensor's
 * @param seed of every chance, the sensor's noise included
 * @param shutterLag from the release to the opening of the shutter
 * @param replyTime from a query to its reply
 * @param jpegTime from the closing of the shutter to the whole JPEG
 * @param rawTime from the closing of the shutter to the whole raw file
 * @param cameraClock what the camera's clock shows, less the true time
 * @param zone the offset from UTC that the camera's clock is set to
 * @param raw whether a DNG is written beside each JPEG
 * @param placing how a file comes into the folder
 * @param firstNumber of the first file, 1 to 9999
 * @param own how the camera chooses its exposure by itself, behind a trigger that only releases;
 *     absent where the trigger sets it
 * @param rendering how a JPEG is made of the sensor's data
 * @param drift by how much the scene's light grows in a minute
 */
public record RigSettings(
    NoiseModel noise,
    long seed,
    Duration shutterLag,
    Duration replyTime,
    Duration jpegTime,
    Duration rawTime,
    Duration cameraClock,
    ZoneOffset zone,
    boolean raw,
    Placing placing,
    int firstNumber,
    Optional<OwnExposure> own,
    Rendering rendering,
    Stops drift) {
  /** How a camera's file comes into a folder. */
  public enum Placing {
    /** Under its own name, half of it first. */
    GROWING,
    /** Under another name, and renamed when it is whole. */
    RENAMED
  }

  private static final Duration LONGEST = Duration.ofHours(1);

  /** A camera of today that stores JPEGs and keeps time in UTC. */
  public static final RigSettings TYPICAL =
      new RigSettings(
          NoiseModel.TYPICAL,
          1,
          Duration.ofMillis(60),
          Duration.ofMillis(2),
          Duration.ofMillis(350),
          Duration.ofMillis(500),
          Duration.ZERO,
          ZoneOffset.UTC,
          false,
          Placing.GROWING,
          1,
          Optional.empty(),
          Rendering.PLAIN,
          Stops.ZERO);

  public RigSettings {
    check("shutter lag", shutterLag);
    check("reply time", replyTime);
    check("JPEG time", jpegTime);
    check("raw time", rawTime);
    if (!(firstNumber >= 1 && firstNumber <= CameraCard.LAST_NUMBER)) {
      throw new IllegalArgumentException("file number (" + firstNumber + ") must be 1 to 9999");
    }
  }

  private static void check(String name, Duration time) {
    if (time.isNegative() || time.compareTo(LONGEST) > 0) {
      throw new IllegalArgumentException(name + " (" + time + ") must be 0 to 1 hour");
    }
  }

  public RigSettings withSeed(long other) {
    return new RigSettings(
        noise,
        other,
        shutterLag,
        replyTime,
        jpegTime,
        rawTime,
        cameraClock,
        zone,
        raw,
        placing,
        firstNumber,
        own,
        rendering,
        drift);
  }

  public RigSettings withRaw(boolean other) {
    return new RigSettings(
        noise,
        seed,
        shutterLag,
        replyTime,
        jpegTime,
        rawTime,
        cameraClock,
        zone,
        other,
        placing,
        firstNumber,
        own,
        rendering,
        drift);
  }

  public RigSettings withPlacing(Placing other) {
    return new RigSettings(
        noise,
        seed,
        shutterLag,
        replyTime,
        jpegTime,
        rawTime,
        cameraClock,
        zone,
        raw,
        other,
        firstNumber,
        own,
        rendering,
        drift);
  }

  public RigSettings withFirstNumber(int other) {
    return new RigSettings(
        noise,
        seed,
        shutterLag,
        replyTime,
        jpegTime,
        rawTime,
        cameraClock,
        zone,
        raw,
        placing,
        other,
        own,
        rendering,
        drift);
  }

  /**
   * @param ahead how far the camera's clock is ahead of the true time; negative where it is behind
   * @param offset the offset from UTC that it is set to
   */
  public RigSettings withCameraClock(Duration ahead, ZoneOffset offset) {
    return new RigSettings(
        noise,
        seed,
        shutterLag,
        replyTime,
        jpegTime,
        rawTime,
        ahead,
        offset,
        raw,
        placing,
        firstNumber,
        own,
        rendering,
        drift);
  }

  /** A camera behind a trigger that only releases. */
  public RigSettings withOwn(OwnExposure other) {
    return new RigSettings(
        noise,
        seed,
        shutterLag,
        replyTime,
        jpegTime,
        rawTime,
        cameraClock,
        zone,
        raw,
        placing,
        firstNumber,
        Optional.of(other),
        rendering,
        drift);
  }

  public RigSettings withRendering(Rendering other) {
    return new RigSettings(
        noise,
        seed,
        shutterLag,
        replyTime,
        jpegTime,
        rawTime,
        cameraClock,
        zone,
        raw,
        placing,
        firstNumber,
        own,
        other,
        drift);
  }

  /**
   * @param other stops a minute; negative where the light goes
   */
  public RigSettings withDrift(Stops other) {
    return new RigSettings(
        noise,
        seed,
        shutterLag,
        replyTime,
        jpegTime,
        rawTime,
        cameraClock,
        zone,
        raw,
        placing,
        firstNumber,
        own,
        rendering,
        other);
  }
}
