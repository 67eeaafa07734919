package org.scenespan.journal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.scenespan.session.Event;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;
import org.scenespan.wire.MalformedRecord;

/** What is on disk after whatever happened is a journal. */
class JournalTest {
  private static final Instant NOW = Instant.parse("2026-05-04T03:00:00Z");

  private final FileSystem disk = Jimfs.newFileSystem(Configuration.unix());
  private Path directory;

  @BeforeEach
  void makeDirectory() throws IOException {
    directory = new Sessions(disk.getPath("/sessions")).create("one");
  }

  private static byte[] golden() throws IOException {
    try (InputStream in = JournalTest.class.getResourceAsStream("/journals/format-1.jsonl")) {
      return in.readAllBytes();
    }
  }

  @Test
  void everyPrefixRecoversToItsWholeRecords() throws IOException {
    byte[] whole = golden();
    Path file = directory.resolve(Journal.FILE_NAME);
    for (int length = 0; length <= whole.length; length++) {
      boolean nearALineEnd =
          length == whole.length || whole[Math.max(0, length - 1)] == '\n' || whole[length] == '\n';
      if (!nearALineEnd && length % 101 != 0) {
        continue;
      }
      byte[] prefix = Arrays.copyOf(whole, length);
      Files.write(file, prefix);
      long wholeLines =
          new String(prefix, StandardCharsets.UTF_8).chars().filter(c -> c == '\n').count();
      try (Journal journal = Journal.reopen(directory)) {
        assertEquals(wholeLines, journal.size(), "of a prefix of " + length + " bytes");
        assertEquals(wholeLines, journal.since(0, 1000).size());
        journal.append(List.of(new Event.SessionHeld()), NOW);
      }
      assertEquals(wholeLines + 1, JournalReading.of(directory).records().size());
    }
  }

  @Test
  void appendedRecordsAreReadBackToTheLetter() throws IOException, MalformedRecord {
    List<String> lines = new String(golden(), StandardCharsets.UTF_8).lines().toList();
    List<String> written = new ArrayList<>();
    try (Journal journal = Journal.create(directory)) {
      for (String line : lines) {
        JournalRecord record = EventJson.read(line);
        for (JournalRecord one : journal.append(List.of(record.event()), record.at())) {
          written.add(EventJson.write(one));
        }
      }
      assertEquals(lines, written);
      assertEquals(lines, journal.since(0, 1000));
      assertEquals(lines.subList(4, 7), journal.since(4, 3));
      assertEquals(List.of(), journal.since(lines.size(), 10));
    }
    assertEquals(lines, Files.readAllLines(directory.resolve(Journal.FILE_NAME)));
  }

  @Test
  void aWrongRecordInTheMiddleIsDamageWithItsLine() throws IOException {
    List<String> lines =
        new ArrayList<>(new String(golden(), StandardCharsets.UTF_8).lines().toList());
    lines.set(3, lines.get(3).replace("\"seq\":4", "\"seq\":5"));
    Files.write(directory.resolve(Journal.FILE_NAME), lines);
    DamagedJournal damage = assertThrows(DamagedJournal.class, () -> JournalReading.of(directory));
    assertTrue(damage.getMessage().contains("line 4"), damage.getMessage());
    assertThrows(DamagedJournal.class, () -> Journal.reopen(directory));
    assertEquals(lines, Files.readAllLines(directory.resolve(Journal.FILE_NAME)), "nothing is cut");
  }

  @Test
  void aFullDiskLeavesTheJournalAsItWas() throws IOException {
    FileSystem small =
        Jimfs.newFileSystem(
            Configuration.unix().toBuilder().setMaxSize(64 * 1024).setBlockSize(1024).build());
    Path place = new Sessions(small.getPath("/sessions")).create("small");
    List<Event> many = new ArrayList<>();
    for (int i = 0; i < 100; i++) {
      many.add(new Event.FrameSkipped("IMG.JPG", "x".repeat(100)));
    }
    try (Journal journal = Journal.create(place)) {
      journal.append(many, NOW);
      long before = journal.size();
      IOException full = null;
      for (int i = 0; full == null && i < 10; i++) {
        before = journal.size();
        try {
          journal.append(many, NOW);
        } catch (IOException told) {
          full = told;
        }
      }
      assertTrue(full != null && full.getMessage().contains("cannot be written"), "it is told");
      assertEquals(before, journal.size());
    }
    try (Journal again = Journal.reopen(place)) {
      assertEquals(0, again.size() % 100, "no part of what could not be written stays");
      again.append(List.of(new Event.SessionHeld()), NOW);
    }
  }

  @Test
  void oneJournalHasOneWriter() throws IOException {
    Path real = Files.createTempDirectory("journal");
    try (Journal journal = Journal.create(real)) {
      assertEquals(0, journal.size());
      IOException busy = assertThrows(IOException.class, () -> Journal.reopen(real));
      assertTrue(busy.getMessage().contains("in use"), busy.getMessage());
      assertEquals(List.of(), JournalReading.of(real).records(), "read beside its writer");
    } finally {
      Files.delete(real.resolve(Journal.FILE_NAME));
      Files.delete(real.resolve(Journal.LOCK_NAME));
      Files.delete(real);
    }
  }

  @Test
  void namesakesGetANumberAndStrangeNamesAreRefused() throws IOException {
    Sessions sessions = new Sessions(disk.getPath("/sessions"));
    assertEquals("one-2", sessions.create("one").getFileName().toString());
    assertThrows(IllegalArgumentException.class, () -> sessions.create("../one"));
    assertThrows(IllegalArgumentException.class, () -> sessions.find("none"));
    assertEquals(List.of(), sessions.names(), "a directory without a journal is no session");
  }
}
