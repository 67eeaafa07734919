package org.scenespan.journal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.scenespan.session.Event;

/** A disk that takes no more records, and then takes them again. */
class HeldRecordsTest {
  private static final Instant NOW = Instant.parse("2026-05-04T03:00:00Z");

  private final Path disk =
      Jimfs.newFileSystem(
              Configuration.unix().toBuilder().setMaxSize(64 << 10).setBlockSize(512).build())
          .getPath("/disk");

  private final Path filler = disk.resolve("filler");

  private Journal journal() throws IOException {
    return Journal.create(Files.createDirectories(disk.resolve("session")));
  }

  private static List<Event> noticed(int number) {
    return List.of(new Event.TriggerNoticed("button", number + "x".repeat(600)));
  }

  private void fill() throws IOException {
    int size = 4096;
    try (OutputStream out = Files.newOutputStream(filler)) {
      while (size > 0) {
        try {
          out.write(new byte[size]);
        } catch (IOException full) {
          size /= 8;
        }
      }
    }
  }

  private static List<Long> numbers(List<String> lines) {
    return lines.stream()
        .map(line -> Long.valueOf(line.replaceAll(".*?\"seq\":(\\d+).*", "$1")))
        .toList();
  }

  @Test
  void whatTheDiskDoesNotTakeIsHeldAndWrittenLater() throws IOException {
    try (Journal journal = journal()) {
      journal.holdOn();
      journal.append(noticed(1), NOW);
      fill();
      assertEquals(2, journal.append(noticed(2), NOW).get(0).seq());
      assertEquals(3, journal.append(noticed(3), NOW).get(0).seq());
      assertTrue(journal.trouble().isPresent());
      assertEquals(List.of(1L, 2L, 3L), numbers(journal.since(0, 10)), "a page sees all");
      assertEquals(List.of(3L), numbers(journal.since(2, 10)));
      assertEquals(List.of(1L, 2L), numbers(journal.since(0, 2)));
      Files.delete(filler);
      journal.append(noticed(4), NOW);
      assertTrue(journal.trouble().isEmpty());
      assertEquals(List.of(1L, 2L, 3L, 4L), numbers(journal.since(0, 10)));
      List<String> onDisk = Files.readAllLines(disk.resolve("session/journal.jsonl"));
      assertEquals(List.of(1L, 2L, 3L, 4L), numbers(onDisk));
    }
  }

  @Test
  void whatIsHeldToTheEndIsTold() throws IOException {
    Journal journal = journal();
    journal.holdOn();
    fill();
    journal.append(noticed(1), NOW);
    assertThrows(IOException.class, journal::close);
  }

  @Test
  void withoutBeingToldToAJournalHoldsNothing() throws IOException {
    try (Journal journal = journal()) {
      fill();
      assertThrows(IOException.class, () -> journal.append(noticed(1), NOW));
      assertEquals(List.of(), journal.since(0, 10));
    }
  }
}
