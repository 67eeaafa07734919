package org.scenespan.frame;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * What was measured of a camera: the tone response of its JPEGs and how far above their clipping
 * its raw files go on, its noise, its shutter's real times, and how long a frame takes. Any of it
 * may be missing.
 *
 * @param camera the model as its files name it
 * @param frames of how many pictures the response is made
 * @param spanStops from the darkest of them to the brightest
 * @param channels red, green and blue; none where there is no response
 * @param noise at each ISO that was measured, the lowest first
 */
public record CameraProfile(
    String camera,
    int frames,
    double spanStops,
    List<Channel> channels,
    List<MeasuredNoise> noise,
    Optional<MeasuredShutters> shutters,
    Optional<CameraLag> lag) {
  /** A camera has fewer. */
  private static final int MOST_ISOS = 64;

  public CameraProfile {
    channels = List.copyOf(channels);
    noise =
        noise.stream()
            .sorted(Comparator.comparingDouble(one -> one.iso().speed()))
            .collect(Collectors.toUnmodifiableList());
    if (channels.size() != 3 && !channels.isEmpty()) {
      throw new IllegalArgumentException("channels (" + channels.size() + ") must be 3");
    }
    if (!(frames >= (channels.isEmpty() ? 0 : 2))) {
      throw new IllegalArgumentException("frames (" + frames + ") must be 2 or more");
    }
    if (!(spanStops >= 0 && spanStops < 100) || spanStops == 0 && !channels.isEmpty()) {
      throw new IllegalArgumentException("span (" + spanStops + " stops) must be above 0");
    }
    if (!(noise.size() <= MOST_ISOS)) {
      throw new IllegalArgumentException("ISOs (" + noise.size() + ") must be 64 at most");
    }
  }

  /** A response alone. */
  public CameraProfile(String camera, int frames, double spanStops, List<Channel> channels) {
    this(camera, frames, spanStops, channels, List.of(), Optional.empty(), Optional.empty());
  }

  public boolean hasResponse() {
    return !channels.isEmpty();
  }

  /** The sensor at the lowest ISO that was measured. */
  public Optional<NoiseModel> sensor() {
    return noise.stream().findFirst().map(MeasuredNoise::model);
  }

  /** This, and what it lacks of an older measurement of the same camera. */
  public CameraProfile over(CameraProfile older) {
    CameraProfile response = hasResponse() ? this : older;
    return new CameraProfile(
        camera,
        response.frames,
        response.spanStops,
        response.channels,
        noise.isEmpty() ? older.noise : noise,
        shutters.or(older::shutters),
        lag.or(older::lag));
  }

  /**
   * One channel.
   *
   * @param response of its 8-bit codes
   * @param residualStops how far samples lie from the response, root mean square, stops
   * @param samples how many there were
   * @param lowestCode the lowest code that the samples cover; below it the response is extrapolated
   * @param highestCode the highest
   * @param headroom how far raw goes on above the JPEG's clipping, where raw pairs were given
   */
  public record Channel(
      ToneResponse response,
      double residualStops,
      int samples,
      int lowestCode,
      int highestCode,
      Optional<Headroom> headroom) {
    public Channel {
      if (response.codes() != ResponseRecovery.CODES) {
        throw new IllegalArgumentException("codes (" + response.codes() + ") must be 256");
      }
      if (!(residualStops >= 0 && residualStops < 100)) {
        throw new IllegalArgumentException("residual (" + residualStops + ") must be 0 or more");
      }
      if (!(samples >= 1 && lowestCode >= 0 && highestCode >= lowestCode && highestCode <= 255)) {
        throw new IllegalArgumentException(
            "codes " + lowestCode + " to " + highestCode + " of " + samples + " samples are none");
      }
    }
  }

  /**
   * From a JPEG's clipping to the raw file's.
   *
   * @param stops 0 where both clip together
   * @param spreadStops half the distance between the 16th and the 84th percentile of the samples
   * @param samples how many there were
   */
  public record Headroom(double stops, double spreadStops, int samples) {
    public Headroom {
      if (!(stops > -20 && stops < 20 && spreadStops >= 0 && samples >= 1)) {
        throw new IllegalArgumentException(
            "headroom (" + stops + " stops, spread " + spreadStops + ") makes no sense");
      }
    }
  }

  /** The channel with the least room left above the JPEG's clipping, where raw pairs were given. */
  public Optional<Headroom> leastHeadroom() {
    return channels.stream()
        .flatMap(channel -> channel.headroom().stream())
        .min((a, b) -> Double.compare(a.stops(), b.stops()));
  }
}
