package org.scenespan.frame;

import java.util.Optional;

/**
 * One frame as the hot folder hands it over: numbers, never pixels.
 *
 * @param file the measured file's name, relative to its folder
 * @param format {@code jpeg}, {@code dng}, …
 * @param metadata what the file says of how it was taken
 * @param measure what the pixels tell
 * @param companion the other file of the same shutter press (the JPEG of a raw), if there is one
 * @param pictures the small pictures that were kept of it, if any were
 */
public record FrameReading(
    String file,
    String format,
    FrameMetadata metadata,
    FrameMeasure measure,
    Optional<String> companion,
    Optional<Pictures> pictures) {

  /**
   * Names of the small pictures of a frame, in the session's own directory.
   *
   * @param preview the frame itself
   * @param mask a picture of the same size: red where a pixel is clipped, blue where it is crushed,
   *     transparent elsewhere
   */
  public record Pictures(String preview, String mask) {}

  public FrameReading withCompanion(Optional<String> name) {
    return new FrameReading(file, format, metadata, measure, name, pictures);
  }
}
