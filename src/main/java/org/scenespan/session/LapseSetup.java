package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.scenespan.frame.Region;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.plan.ramp.LightForecast;
import org.scenespan.plan.ramp.RampSetup;
import org.scenespan.plan.ramp.Wish;
import org.scenespan.sky.Place;

/**
 * All that a lapse is started with.
 *
 * @param session the session's name
 * @param program the program's version
 * @param gear the parts that it runs on
 * @param camera what can be set
 * @param picture what the picture allows; the cadence may leave less
 * @param cadence when frames are due
 * @param region the part of the picture by which it is ramped
 * @param wish how bright the picture should be
 * @param start the scene's EV that is believed in until a frame is read; without one the trigger's
 *     meter is asked
 * @param sky where the light comes from, where the place is known
 * @param patience how long things may take; lost shots are not taken again
 * @param rigCheck whether two frames check the rig before the grid is laid
 */
public record LapseSetup(
    String session,
    String program,
    Gear gear,
    CameraRange camera,
    PictureLimits picture,
    Cadence cadence,
    Region region,
    Wish wish,
    Optional<Ev> start,
    Optional<Sky> sky,
    Patience patience,
    RigCheck rigCheck)
    implements Setup {
  /** More frames are another session's. */
  public static final int MOST_FRAMES = 20_000;

  /** A lapse that begins without a check of the rig. */
  public LapseSetup(
      String session,
      String program,
      Gear gear,
      CameraRange camera,
      PictureLimits picture,
      Cadence cadence,
      Region region,
      Wish wish,
      Optional<Ev> start,
      Optional<Sky> sky,
      Patience patience) {
    this(
        session,
        program,
        gear,
        camera,
        picture,
        cadence,
        region,
        wish,
        start,
        sky,
        patience,
        RigCheck.OFF);
  }

  public LapseSetup with(RigCheck check) {
    return new LapseSetup(
        session, program, gear, camera, picture, cadence, region, wish, start, sky, patience,
        check);
  }

  /**
   * When frames are due: the first at the start, each further one an interval after the one before,
   * whatever happens to any of them.
   *
   * @param interval from one frame to the next, 0.2 s to an hour
   * @param gap that the shutter is closed at least between two frames, above 0
   * @param frames how many, 1 to 20 000
   */
  public record Cadence(Duration interval, Duration gap, int frames) {
    private static final Duration SHORTEST = Duration.ofMillis(200);
    private static final Duration LONGEST = Duration.ofHours(1);

    public Cadence {
      if (interval.compareTo(SHORTEST) < 0 || interval.compareTo(LONGEST) > 0) {
        throw new IllegalArgumentException(
            "interval (" + seconds(interval) + " s) must be 0.2 s to an hour");
      }
      if (gap.isNegative() || gap.isZero() || gap.compareTo(interval) >= 0) {
        throw new IllegalArgumentException(
            "the gap between frames ("
                + seconds(gap)
                + " s) must be above 0 and shorter than the interval, "
                + seconds(interval)
                + " s");
      }
      if (!(frames >= 1 && frames <= MOST_FRAMES)) {
        throw new IllegalArgumentException(
            "frames (" + frames + ") must be 1 to " + MOST_FRAMES + "; take a longer interval");
      }
    }

    /** When the frame of a place on the grid is due, since the start; places count from 1. */
    Duration due(int place) {
      return interval.multipliedBy(place - 1);
    }

    /** The longest shutter that leaves the gap. */
    Shutter longestShutter() {
      return new Shutter(seconds(interval.minus(gap)));
    }

    double intervalSeconds() {
      return seconds(interval);
    }

    private static double seconds(Duration time) {
      return time.toMillis() / 1000.0;
    }
  }

  /**
   * The place, for what the sky's light should do.
   *
   * @param at where
   * @param from the instant that the start stands for in a rehearsal; else it is the start's own
   */
  public record Sky(Place at, Optional<Instant> from) {}

  @Override
  public String kind() {
    return "lapse";
  }

  @Override
  public void check() {
    Latitude latitude = latitude();
    latitude.darkest();
    latitude.brightest();
  }

  /** What camera, picture and cadence leave together. */
  public Latitude latitude() {
    Shutter fits = cadence.longestShutter();
    Shutter wished = picture.longest().orElse(camera.shutters().longest());
    return Latitude.of(camera, picture.withLongest(wished.compareTo(fits) < 0 ? wished : fits));
  }

  /** Whether the first exposure hangs on the trigger's meter. */
  boolean needsMeter() {
    return start.isEmpty();
  }

  /**
   * What the exposures are ramped within.
   *
   * @param from when the first frame is due
   * @param believed the scene's EV until a frame is read
   */
  RampSetup ramp(Instant from, Ev believed) {
    return new RampSetup(
        latitude(),
        wish,
        cadence.intervalSeconds(),
        believed,
        sky.map(it -> LightForecast.clearSky(it.at(), it.from().orElse(from))));
  }
}
