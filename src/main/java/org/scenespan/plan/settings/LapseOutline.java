package org.scenespan.plan.settings;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Rounding;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.sky.ClearSky;
import org.scenespan.sky.Place;
import org.scenespan.sky.Sun;

/**
 * What a lapse under a clear sky will need, before it is begun: frames, clip, card, charges, and
 * the exposures that the light on level ground asks for.
 *
 * @param place where
 * @param from the first frame
 * @param to the end, after {@code from}, at most two days later
 * @param cadence how the frames follow one another
 * @param camera what can be set
 * @param aperture fixed: a lens does not close to the same hole twice
 * @param highestIso how far ISO may rise
 */
public record LapseOutline(
    Place place,
    Instant from,
    Instant to,
    Cadence cadence,
    CameraRange camera,
    Aperture aperture,
    Iso highestIso) {
  private static final Duration LONGEST = Duration.ofDays(2);

  /** How finely the span is searched for the time at which the limits hold. */
  private static final Duration STEP = Duration.ofSeconds(30);

  public LapseOutline {
    Duration span = Duration.between(from, to);
    if (span.isNegative() || span.isZero() || span.compareTo(LONGEST) > 0) {
      throw new IllegalArgumentException(
          "the end must lie after the start, at most two days later; the span is " + span);
    }
    if (cadence.interval().compareTo(span) > 0) {
      throw new IllegalArgumentException(
          "interval ("
              + cadence.interval().toMillis() / 1000.0
              + " s) must not be longer than the lapse");
    }
  }

  /**
   * How the frames follow one another.
   *
   * @param interval from one release to the next, 0.2 s to an hour
   * @param writeTime what the camera needs after an exposure before it can go on
   * @param margin what is left beside, for lag
   */
  public record Cadence(Duration interval, Duration writeTime, Duration margin) {
    public Cadence {
      if (interval.toMillis() < 200 || interval.compareTo(Duration.ofHours(1)) > 0) {
        throw new IllegalArgumentException("interval (" + interval + ") must be 0.2 s to an hour");
      }
      if (writeTime.isNegative() || margin.isNegative()) {
        throw new IllegalArgumentException("write time and margin must not be negative");
      }
      if (longest(interval, writeTime, margin) <= 0) {
        throw new IllegalArgumentException(
            "interval ("
                + interval.toMillis() / 1000.0
                + " s) leaves no time for an exposure beside write time and margin, "
                + writeTime.plus(margin).toMillis() / 1000.0
                + " s");
      }
    }

    private static double longest(Duration interval, Duration writeTime, Duration margin) {
      return interval.minus(writeTime).minus(margin).toMillis() / 1000.0;
    }

    /** The longest shutter that fits: interval − write time − margin [practice]. */
    public Shutter longestShutter() {
      return new Shutter(longest(interval, writeTime, margin));
    }
  }

  /**
   * What the light asks for at a moment.
   *
   * @param name {@code start}, {@code civil dawn}, …
   * @param at when
   * @param sunAltitudeDegrees of the sun's centre, without refraction
   * @param ground the light on level ground
   * @param exposure what exposes it as mid grey, as near as the limits allow
   * @param brighter by how much the picture comes out brighter (+) or darker (−) than that
   */
  public record Moment(
      String name,
      Instant at,
      double sunAltitudeDegrees,
      Ev ground,
      Exposure exposure,
      Stops brighter) {}

  /** How many frames are taken: one every whole interval before the end. */
  public long frames() {
    return Duration.between(from, to).toMillis() / cadence.interval().toMillis();
  }

  /** The clip's length in seconds at a frame rate. */
  public double clipSeconds(double framesPerSecond) {
    return frames() / framesPerSecond;
  }

  /** Gigabytes (10⁹) on the card at so many megabytes (10⁶) a frame. */
  public double gigabytes(double megabytesPerFrame) {
    return frames() * megabytesPerFrame / 1000;
  }

  /** How many battery charges it takes at so many frames a charge. */
  public long charges(int framesPerCharge) {
    return (frames() + framesPerCharge - 1) / framesPerCharge;
  }

  /** What camera, picture and cadence leave together. */
  public Latitude latitude() {
    Shutter fits = cadence.longestShutter();
    Shutter longest =
        fits.compareTo(camera.shutters().longest()) < 0 ? fits : camera.shutters().longest();
    return Latitude.of(
        camera,
        PictureLimits.at(aperture)
            .withLongest(new Shutter(longest.seconds()))
            .withHighestIso(highestIso));
  }

  public Moment moment(String name, Instant at) {
    double altitude = Sun.at(place, at).altitudeDegrees();
    Ev ground = ClearSky.illuminance(altitude).ev();
    Exposure exposure = latitude().at(ground, Rounding.NEAREST);
    return new Moment(name, at, altitude, ground, exposure, ground.minus(exposure.ev()));
  }

  /** The fastest change of the light on the ground from one frame to the next. */
  public Stops fastestPerFrame() {
    double fastest = 0;
    for (Instant at = from; at.isBefore(to); at = at.plus(STEP.multipliedBy(4))) {
      fastest = Math.max(fastest, Math.abs(ClearSky.perMinute(place, at).value()));
    }
    return new Stops(fastest * cadence.interval().toMillis() / 60_000.0);
  }

  /** Where the camera's limits do not span the light, in words; none where they do. */
  public List<Gap> gaps() {
    List<Gap> gaps = new ArrayList<>();
    gap(true).ifPresent(gaps::add);
    gap(false).ifPresent(gaps::add);
    return List.copyOf(gaps);
  }

  /**
   * A part of the lapse that the limits do not reach.
   *
   * @param tooDark whether the frames come out too dark, else too bright
   * @param from when it begins
   * @param until when it ends
   * @param most by how many stops at the worst, above 0
   * @param limit the exposure that is the limit
   */
  public record Gap(boolean tooDark, Instant from, Instant until, Stops most, Exposure limit) {
    public String words() {
      return String.format(
          Locale.ROOT,
          "frames come out up to %.1f stops too %s at %s",
          most.value(),
          tooDark ? "dark" : "bright",
          limit);
    }
  }

  private Optional<Gap> gap(boolean tooDark) {
    Exposure limit = tooDark ? latitude().brightest() : latitude().darkest();
    Instant first = null;
    Instant last = null;
    double most = 0;
    for (Instant at = from; !at.isAfter(to); at = at.plus(STEP)) {
      Ev ground = ClearSky.illuminance(Sun.at(place, at)).ev();
      double missing = (tooDark ? limit.ev().minus(ground) : ground.minus(limit.ev())).value();
      if (missing > Settings.HALF_STEP_STOPS) {
        first = first == null ? at : first;
        last = at;
        most = Math.max(most, missing);
      }
    }
    return first == null
        ? Optional.empty()
        : Optional.of(new Gap(tooDark, first, last, new Stops(most), limit));
  }
}
