package org.scenespan.journal;

import java.io.BufferedInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.ObjLongConsumer;
import org.scenespan.session.State;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;
import org.scenespan.wire.MalformedRecord;

/**
 * What a journal says, read without opening it for appending. What a crash left of a last record is
 * passed over.
 *
 * @param records all that are whole, the oldest first
 * @param state what they lead to
 */
public record JournalReading(List<JournalRecord> records, State state) {
  /**
   * The longest line that is read back: a record is a few kilobytes, a long lapse's report 5 MB.
   */
  private static final int LONGEST_LINE_BYTES = 16 << 20;

  public JournalReading {
    records = List.copyOf(records);
  }

  /**
   * Reads a session's journal.
   *
   * @param directory the session's own
   * @throws DamagedJournal if a record before the last is wrong
   * @throws IOException if it cannot be read
   */
  public static JournalReading of(Path directory) throws IOException {
    List<JournalRecord> records = new ArrayList<>();
    State state = read(directory, (record, end) -> records.add(record));
    return new JournalReading(records, state);
  }

  /**
   * Reads only what a session's records lead to, and keeps none of them.
   *
   * @param directory the session's own
   * @throws DamagedJournal if a record before the last is wrong
   * @throws IOException if it cannot be read
   */
  public static State stateOf(Path directory) throws IOException {
    return read(directory, (record, end) -> {});
  }

  /**
   * Reads record by record; each has to follow from those before it.
   *
   * @param each takes a record, and where its line ends, bytes from the file's beginning
   * @return what they lead to
   */
  static State read(Path directory, ObjLongConsumer<JournalRecord> each) throws IOException {
    Path file = directory.resolve(Journal.FILE_NAME);
    long end = 0;
    long number = 0;
    String wrong = null;
    State state = State.EMPTY;
    try (InputStream reader = new BufferedInputStream(Files.newInputStream(file))) {
      for (Line line = Line.next(reader); line != null; line = Line.next(reader)) {
        if (wrong != null) {
          throw new DamagedJournal(file, number, wrong);
        }
        number++;
        if (!line.whole()) {
          return state;
        }
        try {
          JournalRecord record = EventJson.read(line.text());
          if (record.seq() != number) {
            throw new MalformedRecord("seq is " + record.seq() + " where " + number + " is due");
          }
          state = record.event().applyTo(state, record.at());
          end += line.bytes().length + 1;
          each.accept(record, end);
        } catch (MalformedRecord malformed) {
          wrong = malformed.getMessage();
        } catch (RuntimeException impossible) {
          wrong = "it does not follow from the records before it";
        }
      }
    }
    return state;
  }

  /** A line, and whether its end is there. */
  private record Line(byte[] bytes, boolean whole) {
    String text() {
      return new String(bytes, StandardCharsets.UTF_8);
    }

    static Line next(InputStream in) throws IOException {
      ByteArrayOutputStream bytes = new ByteArrayOutputStream();
      int next = in.read();
      if (next < 0) {
        return null;
      }
      while (next >= 0 && next != '\n') {
        if (bytes.size() >= LONGEST_LINE_BYTES) {
          throw new IOException("a line of the journal is longer than any record");
        }
        bytes.write(next);
        next = in.read();
      }
      return new Line(bytes.toByteArray(), next == '\n');
    }
  }
}
