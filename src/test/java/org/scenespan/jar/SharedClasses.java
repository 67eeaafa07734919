package org.scenespan.jar;

import static java.nio.file.StandardCopyOption.ATOMIC_MOVE;
import static java.nio.file.StandardOpenOption.CREATE;
import static java.nio.file.StandardOpenOption.WRITE;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * An archive of the jar's classes, made once beside it: its hundreds of starts in a run of the
 * tests then take half a second of processor time less each. Without it everything goes as well.
 */
final class SharedClasses {
  private SharedClasses() {}

  /** What to start Java with. */
  static synchronized List<String> flags(String java, Path jar) throws IOException {
    Path archive = jar.resolveSibling("scenespan-tests.jsa");
    // Closing the file gives the lock up.
    try (FileChannel one = FileChannel.open(jar.resolveSibling("tests.lock"), CREATE, WRITE)) {
      one.lock();
      if (!Files.exists(archive)
          || Files.getLastModifiedTime(archive).compareTo(Files.getLastModifiedTime(jar)) < 0) {
        make(java, jar, archive);
      }
    }
    // An archive that does not fit would be told on standard output.
    return List.of("-XX:SharedArchiveFile=" + archive, "-Xshare:auto", "-Xlog:disable");
  }

  private static void make(String java, Path jar, Path archive) throws IOException {
    Path sessions = Files.createTempDirectory(jar.getParent(), "sessions");
    Path made = archive.resolveSibling("scenespan-tests.new");
    List<String> command = new ArrayList<>(List.of(java));
    command.addAll(Program.FLAGS);
    command.addAll(List.of("-XX:ArchiveClassesAtExit=" + made, "-jar", jar.toString()));
    command.addAll(List.of("bracket", "--simulate", "ridge", "--json", "--sessions"));
    command.add(sessions.toString());
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    try {
      process.waitFor();
    } catch (InterruptedException e) {
      process.destroyForcibly();
      Thread.currentThread().interrupt();
      throw new IOException("interrupted", e);
    }
    if (Files.exists(made)) {
      Files.move(made, archive, ATOMIC_MOVE);
    }
  }
}
