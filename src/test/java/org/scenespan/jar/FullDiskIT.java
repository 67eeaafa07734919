package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.scenespan.jar.LiveBracket.is;
import static org.scenespan.jar.LiveBracket.only;
import static org.scenespan.jar.LiveBracket.requireCovered;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.Needs;
import org.scenespan.Tool;

/**
 * A disk that is full under a session that runs: by a limit on how long a file may get, which needs
 * no rights and meets the running program (POSIX.1-2017, {@code RLIMIT_FSIZE}), and by a small disk
 * that is filled up, where the system lets a test mount one.
 */
@Timeout(120)
@EnabledOnOs(value = OS.LINUX, disabledReason = "limits and mounts are Linux's")
class FullDiskIT {
  private static final List<String> DIRECTLY = List.of();

  /** More than all records of a short bracket, less than any preview. */
  private static final long RECORDS_BYTES = 18_000;

  @TempDir private Path directory;

  @Test
  void whenNoFileMayGrowTheSessionEndsWholeAndGoesOnLater() throws Exception {
    Path sessions = directory.resolve("sessions");
    try (LiveBracket live = new LiveBracket(directory, sessions)) {
      try (Program bracket = live.start(DIRECTLY)) {
        bracket.await(line -> is(line, "shot-commanded"));
        limit(bracket, Files.size(journal(sessions)));
        requireEnd(bracket, "File too large");
      }
      requireGoesOn(live, DIRECTLY, sessions);
    }
  }

  @Test
  void previewsThatCannotBeKeptCostNoFrame() throws Exception {
    Path sessions = directory.resolve("sessions");
    try (LiveBracket live = new LiveBracket(directory, sessions)) {
      try (Program bracket = live.start(DIRECTLY)) {
        bracket.await(line -> is(line, "trigger-greeted"));
        limit(bracket, RECORDS_BYTES);
        assertEquals(0, bracket.exitCode(), bracket.errors());
        assertTrue(
            bracket.errors().contains("cannot be kept: java.io.IOException: File too large"));
      }
      requireCovered(only(sessions));
      assertEquals(List.of(), pictures(sessions), "no half pictures are left");
    }
  }

  @Test
  void aFullDiskUnderTheJournalEndsTheSessionWhole() throws Exception {
    Path sessions = Files.createDirectory(directory.resolve("sessions"));
    try (SmallDisk disk = SmallDisk.on(sessions, 4096);
        LiveBracket live = new LiveBracket(directory, sessions)) {
      try (Program bracket = live.start(disk.within())) {
        bracket.await(line -> is(line, "shot-commanded"));
        disk.fill(0);
        requireEnd(bracket, "No space left on device");
      }
      disk.makeRoom();
      requireGoesOn(live, disk.within(), disk.seen());
    }
  }

  @Test
  void ofAnAlmostFullDiskTheRecordsHaveTheRest() throws Exception {
    Path sessions = Files.createDirectory(directory.resolve("sessions"));
    try (SmallDisk disk = SmallDisk.on(sessions, 4096);
        LiveBracket live = new LiveBracket(directory, sessions)) {
      disk.fill(64 << 10);
      try (Program bracket = live.start(disk.within())) {
        assertEquals(0, bracket.exitCode(), bracket.errors());
        assertTrue(bracket.errors().contains("the disk is almost full"), bracket.errors());
      }
      requireCovered(only(disk.seen()));
      assertEquals(List.of(), pictures(disk.seen()));
    }
  }

  private static Path journal(Path sessions) throws IOException {
    return only(sessions).resolve("journal.jsonl");
  }

  private static List<String> pictures(Path sessions) throws IOException {
    try (Stream<Path> files = Files.list(only(sessions).resolve("previews"))) {
      return files.map(file -> file.getFileName().toString()).toList();
    }
  }

  private static void limit(Program program, long bytes) throws Exception {
    Tool.run(
        Needs.tool("jar", "prlimit"),
        "--pid",
        Long.toString(program.pid()),
        "--fsize=" + bytes + ":" + bytes);
  }

  /** One line at the end says what it is; nothing but exit code 2. */
  private static void requireEnd(Program bracket, String why) throws Exception {
    assertEquals(2, bracket.exitCode(), bracket.errors());
    List<String> errors = bracket.errors().lines().toList();
    String last = errors.get(errors.size() - 1);
    assertTrue(last.matches("scenespan: the journal \".*\" cannot be written: " + why), last);
  }

  /** With room again it is resumed, and nothing was lost or is done twice. */
  private static void requireGoesOn(LiveBracket live, List<String> by, Path sessions)
      throws Exception {
    Path session = only(sessions);
    try (Program resumed = live.resume(by, session.getFileName().toString())) {
      assertEquals(0, resumed.exitCode(), resumed.errors());
    }
    requireCovered(session);
  }
}
