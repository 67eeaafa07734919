package org.scenespan.proof;

import java.nio.file.Path;
import java.util.Optional;
import org.scenespan.light.Exposure;

/**
 * A frame that is to be merged.
 *
 * @param file what was measured of it, raw where there is one
 * @param rendered the camera's own JPEG of a raw frame
 * @param exposure what it was taken with
 */
public record ProofFrame(Path file, Optional<Path> rendered, Exposure exposure) {}
