package org.scenespan.folder;

import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** Photographs and broken files that lie beside the project, where they are there. */
final class SharedFiles {
  private SharedFiles() {}

  /** Skips the calling test where a folder of the shared data is missing. */
  static Path folder(String name) {
    Path folder = Path.of("../shared/data", name);
    assumeTrue(Files.isDirectory(folder), "no shared data: " + folder + " is missing");
    return folder;
  }

  static List<Path> filesBelow(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      return files.filter(Files::isRegularFile).sorted().toList();
    }
  }
}
