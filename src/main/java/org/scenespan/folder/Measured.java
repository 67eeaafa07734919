package org.scenespan.folder;

import java.util.List;
import java.util.Optional;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;

/**
 * What one file gave.
 *
 * @param format the word for it in JSON
 * @param preview where one was asked for
 * @param notes what a reader of the numbers must know
 */
record Measured(
    String format,
    FrameMetadata metadata,
    FrameMeasure measure,
    Optional<Preview> preview,
    ColourSpace colour,
    List<String> notes) {

  /** As a session's records have it. */
  Measured withoutRegions() {
    return new Measured(format, metadata, measure.withoutRegions(), preview, colour, notes);
  }
}
