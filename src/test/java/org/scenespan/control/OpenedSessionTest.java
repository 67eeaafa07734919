package org.scenespan.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.scenespan.dashboard.Dashboard;
import org.scenespan.journal.Journal;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Ev;
import org.scenespan.session.Event;
import org.scenespan.session.LapseScript;
import org.scenespan.session.Session;
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

  @Test
  void thePageOfALapseKnowsWhatWasBeforeItWasOpenedAgain() throws Exception {
    Instant start = Instant.parse("2026-05-04T03:00:00Z");
    left("dawn", start, new Event.LapseBegan(start.plusSeconds(5), new Ev(2)));
    try (OpenedSession again = OpenedSession.again(sessions, "dawn", OpenedSessionTest::profile);
        Dashboard page = again.dashboard(0)) {
      HttpRequest asked =
          HttpRequest.newBuilder(URI.create(page.address()).resolve("api/so-far")).build();
      String answer =
          HttpClient.newHttpClient().send(asked, HttpResponse.BodyHandlers.ofString()).body();
      JsonNode told = JsonMapper.builder().build().readTree(answer);
      assertEquals(3, told.get("seq").asInt());
      List<String> types = new ArrayList<>();
      told.get("records").forEach(record -> types.add(record.get("type").asText()));
      assertEquals(List.of("session-opened", "trigger-greeted", "lapse-began"), types);
    }
  }

  @Test
  void knowsThatItWasHeld() throws IOException {
    Instant start = Instant.parse("2026-05-04T03:00:00Z");
    left("held", start, new Event.SessionHeld());
    left("free", start, new Event.LapseBegan(start.plusSeconds(5), new Ev(2)));
    for (String name : List.of("held", "free")) {
      try (OpenedSession again = OpenedSession.again(sessions, name, OpenedSessionTest::profile)) {
        assertEquals(name.equals("held"), again.isHeld(), name);
      }
    }
  }

  /** A lapse that was greeted and left after one event more. */
  private void left(String name, Instant at, Event last) throws IOException {
    try (Journal before = Journal.create(sessions.create(name))) {
      before.append(
          List.of(
              new Event.SessionOpened(Session.VERSION, LapseScript.setup(100)),
              new Event.TriggerGreeted("test trigger"),
              last),
          at);
    }
  }
}
