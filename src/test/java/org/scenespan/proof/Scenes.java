package org.scenespan.proof;

import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import org.scenespan.light.Ev;
import org.scenespan.rehearsal.Scene;

/** Scenes for tests: a bundled one, or a measured one where the shared data is there. */
final class Scenes {
  private static final Path SHARED = Path.of("../shared/data/scenes");

  private Scenes() {}

  static Scene named(String name) {
    if (Scene.names().contains(name)) {
      return Scene.bundled(name, new Ev(12));
    }
    assumeTrue(Files.isDirectory(SHARED), "no " + SHARED);
    return Scene.load(SHARED.resolve(name + ".hdr"), new Ev(12));
  }
}
