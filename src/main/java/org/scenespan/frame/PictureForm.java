package org.scenespan.frame;

import java.util.Optional;

/**
 * What a picture's rows are, and what their codes mean.
 *
 * @param width pixels of a row as it is stored
 * @param height rows as they are stored
 * @param rendered whether a camera or a program has rendered it for the eye: its codes are then
 *     those of a display, and the response is a guess until the camera's own is known
 * @param response from a code to linear light relative to saturation, the same for all channels;
 *     negative where noise lies below black
 * @param metadata how it was taken, and how it is to be turned
 * @param mosaic that full colour was made from: at its own site a channel's code is as the sensor
 *     gave it, elsewhere the mean of neighbours
 */
public record PictureForm(
    int width,
    int height,
    boolean rendered,
    CodeScale response,
    FrameMetadata metadata,
    Optional<Mosaic> mosaic) {
  /** A picture that is made from no mosaic. */
  public PictureForm(
      int width, int height, boolean rendered, CodeScale response, FrameMetadata metadata) {
    this(width, height, rendered, response, metadata, Optional.empty());
  }

  public PictureForm {
    if (!(width > 0 && height > 0)) {
      throw new IllegalArgumentException(
          "a picture's size (" + width + " x " + height + ") must be above 0");
    }
  }
}
