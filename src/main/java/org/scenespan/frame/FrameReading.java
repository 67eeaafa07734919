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
 */
public record FrameReading(
    String file,
    String format,
    FrameMetadata metadata,
    FrameMeasure measure,
    Optional<String> companion) {}
