package org.scenespan.frame;

import java.util.List;
import java.util.Optional;

/**
 * What was measured of a camera: the tone response of its JPEGs, and how far above their clipping
 * its raw files go on.
 *
 * @param camera the model as its files name it
 * @param frames of how many pictures
 * @param spanStops from the darkest of them to the brightest
 * @param channels red, green and blue
 */
public record CameraProfile(String camera, int frames, double spanStops, List<Channel> channels) {
  public CameraProfile {
    channels = List.copyOf(channels);
    if (channels.size() != 3) {
      throw new IllegalArgumentException("channels (" + channels.size() + ") must be 3");
    }
    if (!(frames >= 2)) {
      throw new IllegalArgumentException("frames (" + frames + ") must be 2 or more");
    }
    if (!(spanStops > 0 && spanStops < 100)) {
      throw new IllegalArgumentException("span (" + spanStops + " stops) must be above 0");
    }
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
