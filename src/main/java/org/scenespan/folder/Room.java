package org.scenespan.folder;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.scenespan.session.Input;

/** How much of its disk a frame takes, and how much is left. */
final class Room {
  private Room() {}

  /**
   * @param companion the other file of the same press, in the same folder
   * @return nothing where the disk does not say
   */
  static Optional<Input.SpaceSeen> after(Path frame, Optional<String> companion) {
    try {
      long bytes = Files.size(frame);
      if (companion.isPresent()) {
        bytes += Files.size(frame.resolveSibling(companion.get()));
      }
      return Optional.of(new Input.SpaceSeen(Files.getFileStore(frame).getUsableSpace(), bytes));
    } catch (IOException | RuntimeException unknown) {
      // A file that has gone meanwhile, or a file system that keeps no account of its room.
      return Optional.empty();
    }
  }
}
