package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;
import static org.scenespan.jar.LiveBracket.is;
import static org.scenespan.jar.LiveBracket.only;
import static org.scenespan.jar.LiveBracket.requireCovered;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.Needs;

/**
 * Folders that the program may not write, or not even look into. The superuser may do everything,
 * so the program is started without that privilege.
 */
@Timeout(120)
@EnabledOnOs(value = OS.LINUX, disabledReason = "privileges are Linux's")
class ReadOnlyIT {
  @TempDir private Path directory;
  private List<String> unprivileged;

  @BeforeEach
  void drop() throws Exception {
    Path tool = Needs.tool("jar", "setpriv");
    boolean root = "root".equals(System.getProperty("user.name"));
    String without = "-dac_override,-dac_read_search";
    unprivileged =
        root
            ? List.of(tool.toString(), "--bounding-set=" + without, "--inh-caps=" + without)
            : List.of();
    if (root) {
      Path probe = directory.resolve("probe");
      Files.createDirectory(probe);
      allow(probe, "r-xr-xr-x");
      List<String> command =
          Stream.concat(unprivileged.stream(), Stream.of("touch", probe + "/file")).toList();
      int code = new ProcessBuilder(command).start().waitFor();
      assertTrue(code != 0, "the privilege is not gone");
    }
  }

  @AfterEach
  void allowAll() throws Exception {
    for (String name : List.of("sessions", "frames")) {
      if (Files.exists(directory.resolve(name))) {
        allow(directory.resolve(name), "rwxr-xr-x");
      }
    }
  }

  private static void allow(Path folder, String rights) throws Exception {
    Files.setPosixFilePermissions(folder, PosixFilePermissions.fromString(rights));
  }

  private void requireRefusal(String message, String... words) throws Exception {
    try (Program program = Program.start(directory, unprivileged, words)) {
      assertEquals(2, program.exitCode(), program.errors());
      assertEquals("scenespan: " + message, program.errors().strip());
    }
  }

  @Test
  void whereNoSessionCanBeKeptItIsSaidAtOnce() throws Exception {
    Path sessions = Files.createDirectory(directory.resolve("sessions"));
    allow(sessions, "r-xr-xr-x");
    Path inside = sessions.resolve("own");
    requireRefusal(
        "\"" + inside + "\" may not be read or written here",
        "bracket",
        "--simulate",
        "window",
        "--sessions",
        inside.toString());
    try (Stream<Path> left = Files.list(sessions)) {
      assertEquals(0, left.count());
    }
  }

  @Test
  void aHotFolderThatMayNotBeReadIsSaidAtOnce() throws Exception {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    allow(frames, "---------");
    requireRefusal(
        "hot folder " + frames + " may not be read",
        "bracket",
        "--port",
        "/dev/null",
        "--folder",
        frames.toString(),
        "--sessions",
        directory.resolve("sessions").toString());
  }

  /** The camera writes; this program only reads. Its own folder closes while it runs. */
  @Test
  void aReadOnlyHotFolderIsEnoughAndPreviewsAreNotNeeded() throws Exception {
    assumeTrue(!unprivileged.isEmpty(), "only the superuser's camera writes where nobody may");
    Path sessions = directory.resolve("sessions");
    try (LiveBracket live = new LiveBracket(directory, sessions)) {
      allow(live.frames(), "r-xr-xr-x");
      try (Program bracket = live.start(unprivileged)) {
        bracket.await(line -> is(line, "session-opened"));
        Path previews = only(sessions).resolve("previews");
        allow(previews, "r-xr-xr-x");
        allow(only(sessions), "r-xr-xr-x");
        assertEquals(0, bracket.exitCode(), bracket.errors());
        assertTrue(bracket.errors().contains("cannot be kept"), bracket.errors());
        try (Stream<Path> pictures = Files.list(previews)) {
          assertEquals(0, pictures.count());
        }
      }
      requireCovered(only(sessions));
    }
  }

  @Test
  void aHotFolderThatClosesAndOpensAgainIsOutlived() throws Exception {
    Path sessions = directory.resolve("sessions");
    try (LiveBracket live = new LiveBracket(directory, sessions);
        Program bracket = live.start(unprivileged)) {
      bracket.await(line -> is(line, "shot-commanded"));
      allow(live.frames(), "-wx-wx-wx");
      bracket.await(line -> is(line, "folder-lost"));
      allow(live.frames(), "rwxr-xr-x");
      bracket.await(line -> is(line, "folder-returned"));
      assertEquals(0, bracket.exitCode(), bracket.errors());
      requireCovered(only(sessions));
    }
  }
}
