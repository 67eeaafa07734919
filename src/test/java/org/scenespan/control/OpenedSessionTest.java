package org.scenespan.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.scenespan.journal.Journal;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.session.Event;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;

/** Opening a session again whose journal was left unfinished. */
class OpenedSessionTest {
  private static final int RECORDS = 5;

  private final FileSystem disk = Jimfs.newFileSystem(Configuration.unix());
  private final Sessions sessions = new Sessions(disk.getPath("/sessions"));
  private Path directory;

  @BeforeEach
  void leaveASession() throws IOException {
    directory = sessions.create("one");
    try (InputStream in = getClass().getResourceAsStream("/journals/format-1.jsonl")) {
      String whole = new String(in.readAllBytes(), StandardCharsets.UTF_8);
      String part =
          whole.lines().limit(RECORDS).map(line -> line + "\n").collect(Collectors.joining());
      Files.writeString(directory.resolve(Journal.FILE_NAME), part);
    }
  }

  @AfterEach
  void closeDisk() throws IOException {
    disk.close();
  }

  private static Profile profile(String name) {
    return new Profiles(Optional.empty()).load(name);
  }

  /** Between the reading and the lock, as another program would that ends just now. */
  private Profile goneOn(String name) {
    try (Journal other = Journal.reopen(directory)) {
      other.append(List.of(new Event.SessionHeld()), Instant.parse("2026-05-04T03:00:09Z"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return profile(name);
  }

  @Test
  void oneThatWentOnMeanwhileIsNotTakenForWhatItWas() throws IOException {
    IOException refusal =
        assertThrows(IOException.class, () -> OpenedSession.again(sessions, "one", this::goneOn));
    assertEquals("session \"one\" went on meanwhile; resume it again", refusal.getMessage());
    assertEquals(RECORDS + 1, JournalReading.of(directory).records().size());
    OpenedSession.again(sessions, "one", OpenedSessionTest::profile);
  }
}
