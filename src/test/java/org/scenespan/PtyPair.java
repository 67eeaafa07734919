package org.scenespan;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;

/**
 * A serial cable: two pseudo-terminals that are joined, each found under a link of its own. It can
 * be pulled, and put in again.
 */
public final class PtyPair implements AutoCloseable {
  private static final long LONGEST_SECONDS = 30;

  private final String group;
  private final Path near;
  private final Path far;
  private Process cable;

  private PtyPair(String group, Path folder) {
    this.group = group;
    this.near = folder.resolve("near");
    this.far = folder.resolve("far");
  }

  /** Joins a new pair, with its links in a folder. */
  public static PtyPair in(Path folder, String group) throws IOException {
    PtyPair pair = new PtyPair(group, folder);
    pair.plug();
    return pair;
  }

  public Path near() {
    return near;
  }

  public Path far() {
    return far;
  }

  /** Puts the cable in; the links are new, and most likely point elsewhere than before. */
  public void plug() throws IOException {
    cable =
        new ProcessBuilder(
                Needs.tool(group, "socat").toString(),
                "-d",
                "-d",
                "pty,raw,echo=0,link=" + near,
                "pty,raw,echo=0,link=" + far)
            .redirectErrorStream(true)
            .start();
    // It says so when both ends are there; what it says later fits into the pipe.
    var said = cable.inputReader();
    for (String line = said.readLine(); ; line = said.readLine()) {
      assertTrue(line != null, "socat ended");
      if (line.contains("starting data transfer loop")) {
        return;
      }
    }
  }

  public void pull() throws IOException {
    cable.destroyForcibly();
    cable.onExit().orTimeout(LONGEST_SECONDS, TimeUnit.SECONDS).join();
    Files.deleteIfExists(near);
    Files.deleteIfExists(far);
  }

  @Override
  public void close() throws IOException {
    pull();
  }
}
