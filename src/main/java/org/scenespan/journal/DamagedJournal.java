package org.scenespan.journal;

import java.io.IOException;
import java.nio.file.Path;

/** A journal with a record that is wrong in the middle, which no crash of ours leaves behind. */
public final class DamagedJournal extends IOException {
  private static final long serialVersionUID = 1;

  DamagedJournal(Path file, long line, String reason) {
    super(
        "journal \""
            + file
            + "\", line "
            + line
            + ": "
            + reason
            + "; keep a copy, cut the file before this line, and resume");
  }
}
