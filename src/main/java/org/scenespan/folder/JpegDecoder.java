package org.scenespan.folder;

import org.scenespan.folder.jpeg.RowSink;

/** Turns a JPEG's codes into rows of pixels, in the JPEG's own colours and at full size. */
interface JpegDecoder {
  /**
   * Hands every row of the picture to the sink.
   *
   * @throws UnreadableFrame if the picture is damaged, cut off or of an unknown kind; some rows may
   *     have been handed over before
   */
  void decode(JpegFile file, RowSink sink) throws UnreadableFrame;
}
