package org.scenespan.plan.guard;

import java.util.Optional;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;

/**
 * One frame of a tether, in the numbers that the next ones are judged by.
 *
 * @param metadata how it was taken
 * @param measure what its pixels tell
 * @param deviation from the reference frame; absent where it could not be held against it
 */
public record Watched(
    FrameMetadata metadata, FrameMeasure measure, Optional<Deviation> deviation) {}
