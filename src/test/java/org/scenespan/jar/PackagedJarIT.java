package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.jar.JarFile;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.session.Event;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/**
 * The packaged program: killed in the middle of a session it goes on without a missing exposure.
 */
@Timeout(120)
class PackagedJarIT {
  @TempDir private Path directory;

  @ParameterizedTest
  @ValueSource(
      strings = {
        "session-opened",
        "scene-metered",
        "shot-planned",
        "shot-commanded",
        "shot-confirmed",
        "frame-accepted",
        "span-estimated"
      })
  void killedAfterARecordItIsResumedWithNoExposureMissing(String type) throws Exception {
    try (Program program =
        Program.start(
            directory,
            "bracket",
            "--simulate",
            "ridge",
            "--real-time",
            "--json",
            "--sessions",
            "sessions")) {
      program.await(line -> line.contains("\"type\":\"" + type + "\""));
      program.kill();
    }
    String session = onlySession();
    try (Program program =
        Program.start(
            directory, "sessions", "resume", session, "--json", "--sessions", "sessions")) {
      assertEquals(0, program.exitCode(), program.errors());
    }
    List<JournalRecord> resumed = journal(session);
    Event.BracketReport report = (Event.BracketReport) resumed.get(resumed.size() - 1).event();
    assertTrue(report.covered(), report.why());
    assertTrue(resumed.stream().anyMatch(record -> record.event() instanceof Event.SessionResumed));
    assertEquals(Set.of(), unaccounted(resumed), "every commanded shot is accounted for");
    Set<Double> exposures = new HashSet<>();
    for (Event.ReportFrame frame : report.frames()) {
      assertTrue(exposures.add(frame.ev().value()), "taken twice: " + report.frames());
    }
    // A shot that was lost with the power may be taken again a click apart, and cost one frame.
    assertTrue(report.frames().size() <= 4, "frames: " + report.frames());
  }

  /** Shots that were commanded and have neither a frame nor a loss to show. */
  private static Set<Integer> unaccounted(List<JournalRecord> records) {
    Set<Integer> open = new HashSet<>();
    for (JournalRecord record : records) {
      if (record.event() instanceof Event.ShotCommanded shot) {
        open.add(shot.shot());
      } else if (record.event() instanceof Event.FrameAccepted frame) {
        open.remove(frame.shot());
      } else if (record.event() instanceof Event.ShotLost lost) {
        open.remove(lost.shot());
      } else if (record.event() instanceof Event.ShotRefused refused) {
        open.remove(refused.shot());
      }
    }
    return open;
  }

  @Test
  void interruptedItSaysHowToGoOn() throws Exception {
    try (Program program =
        Program.start(
            directory, "bracket", "--simulate", "ridge", "--real-time", "--sessions", "sessions")) {
      program.await(line -> line.startsWith("Shot 1"));
      assertEquals(130, program.interrupt());
      assertTrue(
          program.errors().contains("scenespan sessions resume " + onlySession()),
          program.errors());
    }
    try (Program program = Program.start(directory, "sessions", "list", "--sessions", "sessions")) {
      assertEquals(0, program.exitCode());
      assertTrue(program.lines().get(0).contains("unfinished"), program.lines().toString());
    }
  }

  @Test
  void theImageReadersAndTheNativeLibrarySurviveThePacking() throws IOException {
    Path jar = Path.of(System.getProperty("scenespan.jar", "target/scenespan.jar"));
    try (JarFile file = new JarFile(jar.toFile())) {
      assertTrue(file.getEntry("META-INF/services/javax.imageio.spi.ImageReaderSpi") != null);
      assertTrue(file.getEntry("device-profiles/reference-trigger.json") != null);
      assertTrue(file.getEntry("web/index.html") != null);
      assertTrue(file.stream().noneMatch(entry -> entry.getName().matches("META-INF/.*\\.RSA")));
      assertTrue(file.stream().anyMatch(entry -> entry.getName().contains("jSerialComm")));
    }
  }

  @Test
  void twoProgramsCannotResumeOneSession() throws Exception {
    try (Program program =
        Program.start(
            directory, "bracket", "--simulate", "ridge", "--real-time", "--sessions", "sessions")) {
      program.await(line -> line.startsWith("Shot 1"));
      try (Program second =
          Program.start(directory, "sessions", "resume", onlySession(), "--sessions", "sessions")) {
        assertEquals(2, second.exitCode());
        assertTrue(second.errors().contains("in use"), second.errors());
      }
    }
  }

  private String onlySession() throws IOException {
    try (Stream<Path> sessions = Files.list(directory.resolve("sessions"))) {
      List<Path> all = sessions.toList();
      assertEquals(1, all.size());
      return all.get(0).getFileName().toString();
    }
  }

  private List<JournalRecord> journal(String session) throws Exception {
    Path file = directory.resolve("sessions").resolve(session).resolve("journal.jsonl");
    List<JournalRecord> records = new ArrayList<>();
    for (String line : Files.readAllLines(file)) {
      records.add(EventJson.read(line));
    }
    assertFalse(records.isEmpty());
    return records;
  }
}
