package org.scenespan.proof;

import java.io.IOException;
import java.nio.file.Path;
import org.scenespan.frame.PictureRows;

/** Reads a picture's pixels from its file, from the top to the bottom. */
public interface PictureReader {
  /**
   * @throws IOException in one line, without the file's name, if the file cannot be read as a frame
   */
  void read(Path file, PictureRows rows) throws IOException;
}
