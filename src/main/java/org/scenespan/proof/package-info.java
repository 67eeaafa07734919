/**
 * Merging a bracket to check it in the field, and a camera's response from one. Layer 5: imports
 * downward only and none of its siblings; pixels come through {@link
 * org.scenespan.proof.PictureReader}, which control connects. Every path through a frame is by
 * strips: no picture is held whole but the reduced one for the eye.
 */
package org.scenespan.proof;
