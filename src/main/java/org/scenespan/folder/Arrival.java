package org.scenespan.folder;

import java.nio.file.Path;

/** A file that came into the hot folder. */
public sealed interface Arrival {
  Path file();

  /** The file's name, relative to the folder. */
  default String name() {
    return file().getFileName().toString();
  }

  /** The file has been still for the quiet time and has its format's own end. */
  record Whole(Path file) implements Arrival {}

  /** The file has been still for long and is still not whole, or it is too big. */
  record Broken(Path file, String reason) implements Arrival {}
}
