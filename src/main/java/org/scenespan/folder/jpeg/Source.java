package org.scenespan.folder.jpeg;

import java.io.IOException;

/** Gives a file's bytes a part at a time, so that the file need not be in memory. */
public interface Source {
  /** Reads a part, all of it; several threads may ask at once. */
  void read(int position, byte[] into, int offset, int length) throws IOException;
}
