package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.scenespan.session.Event;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/** A program that is trigger and camera, and beside it one that brackets by way of its port. */
final class LiveBracket implements AutoCloseable {
  private final Path directory;
  private final Path frames;
  private final Path sessions;
  private final Program device;
  private final String port;

  /**
   * Starts the device.
   *
   * @param sessions where sessions are kept, as the bracketing program sees it
   */
  LiveBracket(Path directory, Path sessions) throws IOException {
    this.directory = directory;
    this.sessions = sessions;
    this.frames = Files.createDirectories(directory.resolve("frames"));
    this.device = Program.emulator(directory, this.frames);
    this.port = device.port();
  }

  Path frames() {
    return frames;
  }

  /** Starts to bracket, by way of another program. */
  Program start(List<String> by, String... more) throws IOException {
    List<String> words =
        new ArrayList<>(
            List.of(
                "bracket",
                "--port",
                port,
                "--folder",
                frames.toString(),
                "--frame-timeout",
                "3s",
                "--json",
                "--sessions",
                sessions.toString()));
    words.addAll(List.of(more));
    return Program.start(directory, by, words.toArray(String[]::new));
  }

  Program resume(List<String> by, String session) throws IOException {
    return Program.start(
        directory, by, "sessions", "resume", session, "--json", "--sessions", sessions.toString());
  }

  static boolean is(String line, String type) {
    return line.contains("\"type\":\"" + type + "\"");
  }

  /** The only session below a folder. */
  static Path only(Path sessions) throws IOException {
    try (Stream<Path> all = Files.list(sessions)) {
      List<Path> found = all.filter(Files::isDirectory).toList();
      assertEquals(1, found.size(), found.toString());
      return found.get(0);
    }
  }

  /** Ends covered, with each shot commanded once and each frame taken for one shot. */
  static void requireCovered(Path session) throws Exception {
    Set<Integer> commanded = new HashSet<>();
    Set<String> accepted = new HashSet<>();
    List<JournalRecord> records = new ArrayList<>();
    for (String line : Files.readAllLines(session.resolve("journal.jsonl"))) {
      records.add(EventJson.read(line));
    }
    for (JournalRecord record : records) {
      if (record.event() instanceof Event.ShotCommanded shot) {
        assertTrue(commanded.add(shot.shot()), "commanded twice: " + shot);
      } else if (record.event() instanceof Event.FrameAccepted frame) {
        assertTrue(accepted.add(frame.frame().file()), "accepted twice: " + frame.frame().file());
      }
    }
    Event.BracketReport report = (Event.BracketReport) records.get(records.size() - 1).event();
    assertTrue(report.covered(), report.why());
  }

  @Override
  public void close() throws IOException {
    device.close();
  }
}
