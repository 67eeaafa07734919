package org.scenespan.dashboard;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Optional;
import org.scenespan.frame.Patch;

/**
 * The small pictures that records name: a frame's preview, and the mask of its clipped pixels (a
 * PNG of the preview's shape, opaque white where the frame is clipped, transparent elsewhere).
 */
@FunctionalInterface
public interface Pictures {
  /** The largest picture that is served, bytes. */
  int MOST_BYTES = 8 << 20;

  /**
   * A picture's bytes, empty if there is none of that name.
   *
   * @param name letters, digits, {@code _ . -}, 1 to 80 of them, not beginning with a dot
   */
  Optional<byte[]> named(String name);

  /**
   * A part of a frame on disk at its full size, as a JPEG; empty if there is no such frame, or no
   * more of it than its preview.
   *
   * @param frame the name of its file
   * @param part of the upright picture
   */
  default Optional<byte[]> part(String frame, Patch part) {
    return Optional.empty();
  }

  /** The name of the preview of the frame that landed last; where none is told, empty. */
  default Optional<String> latest() {
    return Optional.empty();
  }

  /** The same of the last of the frames that are marked to be kept. */
  default Optional<String> latestKept() {
    return Optional.empty();
  }

  /** The pictures in a folder; a link in it is not followed. */
  static Pictures in(Path folder) {
    return name -> {
      Path file = folder.resolve(name);
      try {
        if (!Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)
            || Files.size(file) > MOST_BYTES) {
          return Optional.empty();
        }
        return Optional.of(Files.readAllBytes(file));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    };
  }
}
