package org.scenespan.frame;

import java.util.List;
import org.scenespan.light.Share;

/**
 * Clipped pixels by the size of the connected area that they lie in, so that a sun's disc or
 * sparkle can be told from a sky. Pixels that touch at a side or a corner are connected.
 *
 * @param pixelsBySize clipped pixels in areas of 2^k to 2^(k+1) − 1 pixels, from k = 0; as long as
 *     the largest area asks for
 */
public record ClippedAreas(List<Long> pixelsBySize) {
  public static final ClippedAreas NONE = new ClippedAreas(List.of());

  /** More classes than any picture has pixels. */
  private static final int MOST_CLASSES = 63;

  public ClippedAreas {
    pixelsBySize = List.copyOf(pixelsBySize);
    if (!(pixelsBySize.size() <= MOST_CLASSES)) {
      throw new IllegalArgumentException(
          "size classes (" + pixelsBySize.size() + ") must be at most " + MOST_CLASSES);
    }
    for (long pixels : pixelsBySize) {
      if (!(pixels >= 0)) {
        throw new IllegalArgumentException("clipped pixels (" + pixels + ") must be 0 or more");
      }
    }
  }

  /**
   * Clipped pixels in areas that are surely no larger than a share of the picture: a class that
   * reaches beyond it does not count.
   *
   * @param largest of one area
   * @param pixels of the picture
   */
  public Share inAreasUpTo(Share largest, long pixels) {
    double limit = largest.value() * pixels;
    long small = 0;
    for (int k = 0; k < pixelsBySize.size(); k++) {
      if (Math.pow(2, k + 1) - 1 <= limit) {
        small += pixelsBySize.get(k);
      }
    }
    return Share.of(Math.min(small, pixels), pixels);
  }
}
