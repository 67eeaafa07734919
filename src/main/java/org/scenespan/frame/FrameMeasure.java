package org.scenespan.frame;

import org.scenespan.light.Share;

/**
 * What one frame's pixels tell, in linear light relative to saturation.
 *
 * @param width pixels of the picture
 * @param height pixels of the picture
 * @param source what was measured
 * @param pixels how many pixels were counted (of a raw frame: blocks of four sites)
 * @param clipped pixels at the highest code, per channel; combined: any channel
 * @param crushed pixels at the lowest code, per channel; combined: all channels
 * @param red histogram of the channel
 * @param green histogram of the channel
 * @param blue histogram of the channel
 * @param luminance histogram of BT.709 luminance
 * @param brightest histogram of each pixel's brightest channel, the one that clips first
 * @param sharpness mean squared difference of neighbouring luminances over the mean luminance
 *     squared; comparable only between frames of one scene, 0 or more
 * @param clippedAreas clipped pixels by the size of their connected area
 * @param regions sharpness of parts of the picture as it is stored; records of a session do without
 */
public record FrameMeasure(
    int width,
    int height,
    FrameSource source,
    long pixels,
    PixelCounts clipped,
    PixelCounts crushed,
    LogHistogram red,
    LogHistogram green,
    LogHistogram blue,
    LogHistogram luminance,
    LogHistogram brightest,
    double sharpness,
    ClippedAreas clippedAreas,
    SharpnessGrid regions) {
  public FrameMeasure {
    if (!(width > 0 && height > 0 && pixels > 0)) {
      throw new IllegalArgumentException(
          "a frame's size (" + width + " x " + height + ", " + pixels + " pixels) must be above 0");
    }
    if (!(clipped.isWithin(pixels) && crushed.isWithin(pixels))) {
      throw new IllegalArgumentException(
          "clipped or crushed pixels (" + clipped + ", " + crushed + ") are more than " + pixels);
    }
    if (!(sharpness >= 0)) {
      throw new IllegalArgumentException("sharpness (" + sharpness + ") must be 0 or more");
    }
  }

  /** A measure in which parts were not told apart. */
  public FrameMeasure(
      int width,
      int height,
      FrameSource source,
      long pixels,
      PixelCounts clipped,
      PixelCounts crushed,
      LogHistogram red,
      LogHistogram green,
      LogHistogram blue,
      LogHistogram luminance,
      LogHistogram brightest,
      double sharpness,
      ClippedAreas clippedAreas) {
    this(
        width,
        height,
        source,
        pixels,
        clipped,
        crushed,
        red,
        green,
        blue,
        luminance,
        brightest,
        sharpness,
        clippedAreas,
        SharpnessGrid.NONE);
  }

  /** A measure in which clipped areas were not traced. */
  public FrameMeasure(
      int width,
      int height,
      FrameSource source,
      long pixels,
      PixelCounts clipped,
      PixelCounts crushed,
      LogHistogram red,
      LogHistogram green,
      LogHistogram blue,
      LogHistogram luminance,
      LogHistogram brightest,
      double sharpness) {
    this(
        width,
        height,
        source,
        pixels,
        clipped,
        crushed,
        red,
        green,
        blue,
        luminance,
        brightest,
        sharpness,
        ClippedAreas.NONE);
  }

  /** The same without what is told of its parts. */
  public FrameMeasure withoutRegions() {
    return new FrameMeasure(
        width,
        height,
        source,
        pixels,
        clipped,
        crushed,
        red,
        green,
        blue,
        luminance,
        brightest,
        sharpness,
        clippedAreas);
  }

  /** Pixels of which any channel is clipped. */
  public Share clippedShare() {
    return Share.of(clipped.combined(), pixels);
  }
}
