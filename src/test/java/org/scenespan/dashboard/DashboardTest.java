package org.scenespan.dashboard;

import static java.net.http.HttpRequest.BodyPublishers.ofString;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class DashboardTest extends OpenDashboard {
  @Test
  void replaysTheJournalVerbatimWithItsNumbersAsIds() throws Exception {
    records.append("session-opened", "\"source\":\"simulated: Grat, früh\"");
    records.append("session-held", "");
    try (EventStream stream = EventStream.open(client, at("api/events"))) {
      assertEquals(
          "text/event-stream",
          stream.response().headers().firstValue("Content-Type").orElse("").split(";")[0]);
      for (int seq = 1; seq <= 2; seq++) {
        EventStream.Event event = stream.nextRecord();
        assertEquals(Integer.toString(seq), event.id());
        assertEquals(records.since(seq - 1).get(0), event.data());
      }
    }
  }

  /** It goes out in pieces, so that a browser can do something else between them. */
  @Test
  void replaysALongJournalWholeAndInOrder() throws Exception {
    String words = "w".repeat(1_000);
    for (int seq = 1; seq <= 500; seq++) {
      records.append("light-drifted", "\"why\":\"" + words + "\"");
    }
    long begun = System.nanoTime();
    try (EventStream stream = EventStream.open(client, at("api/events"))) {
      for (int seq = 1; seq <= 500; seq++) {
        assertEquals(Integer.toString(seq), stream.nextRecord().id());
      }
    }
    // There are 15 pauses of 5 ms; a stream that stalls in each would wait for a pulse, 10 s, each
    // time.
    assertTrue(System.nanoTime() - begun < 60_000_000_000L, "it stalls");
  }

  @Test
  void pushesWhatIsAppendedWhileTheStreamIsOpen() throws Exception {
    records.append("session-opened", "");
    try (EventStream stream = EventStream.open(client, at("api/events"))) {
      stream.nextRecord();
      for (int seq = 2; seq <= 40; seq++) {
        records.append("session-held", "");
        assertEquals(Integer.toString(seq), stream.nextRecord().id());
      }
    }
  }

  @ParameterizedTest
  @CsvSource({"Last-Event-ID", "since"})
  void resumesWithoutGapOrRepeat(String how) throws Exception {
    for (int seq = 1; seq <= 7; seq++) {
      records.append("session-held", "");
    }
    boolean byHeader = how.equals("Last-Event-ID");
    try (EventStream stream =
        byHeader
            ? EventStream.open(client, at("api/events?since=1"), how, "4")
            : EventStream.open(client, at("api/events?since=4"))) {
      assertEquals("5", stream.nextRecord().id());
      assertEquals("6", stream.nextRecord().id());
      assertEquals("7", stream.nextRecord().id());
      records.append("session-continued", "");
      assertEquals("8", stream.nextRecord().id());
    }
  }

  @Test
  void firstTellsWhichStreamItIsAndHowFarItReaches() throws Exception {
    records.append("session-opened", "");
    records.append("session-held", "");
    try (EventStream one = EventStream.open(client, at("api/events"));
        EventStream two = EventStream.open(client, at("api/events?since=2"))) {
      EventStream.Event pulse = one.next();
      assertEquals("pulse", pulse.name());
      assertEquals("", pulse.id(), "a pulse must not move the browser's last id");
      assertTrue(two.next().data().endsWith("\"newest\":2}"));
      try (Dashboard other = new Dashboard(0, records, new AskedActs(asked), name -> null);
          EventStream stream = EventStream.open(client, other.address() + "api/events")) {
        assertFalse(stream.next().data().equals(pulse.data()), "each run has its own name");
      }
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"-1", "one", "1e3", "99999999999999999999"})
  void refusesANumberThatIsNone(String since) throws Exception {
    assertEquals(400, get("api/events?since=" + since).statusCode());
  }

  @Test
  void refusesOneStreamTooManyAndTakesItWhenAPlaceIsFree() throws Exception {
    List<EventStream> streams = new ArrayList<>();
    for (int i = 0; i < Feed.MOST_STREAMS; i++) {
      streams.add(EventStream.open(client, at("api/events")));
    }
    assertEquals(503, get("api/events").statusCode());
    assertEquals(200, get("index.html").statusCode(), "the page itself is still served");
    dashboard.hangUp();
    for (EventStream stream : streams) {
      assertNull(stream.nextRecord());
    }
    try (EventStream again = EventStream.open(client, at("api/events"))) {
      assertEquals(200, again.response().statusCode());
    }
  }

  @Test
  void aReleaseIsHandedOnOrRefusedInASentence() throws Exception {
    assertEquals(202, release("{\"countSeconds\":5}").statusCode());
    assertEquals(202, release("{\"countSeconds\":0}").statusCode());
    HttpResponse<String> refused = release("{\"countSeconds\":10}");
    assertEquals(409, refused.statusCode());
    assertEquals("{\"error\":\"the session has ended\"}", refused.body());
    for (String wrong : List.of("{}", "{\"countSeconds\":3}", "{\"countSeconds\":-1}", "5", "")) {
      assertEquals(400, release(wrong).statusCode(), wrong);
    }
    assertEquals(202, post("api/withdraw", ofString("{}"), OWN).statusCode());
    assertEquals(List.of("release 5", "release 0", "withdraw"), asked);
    assertEquals(403, post("api/release", ofString("{\"countSeconds\":0}")).statusCode());
    String[] foreign = {"X-Scenespan", "1", "Content-Type", "text/plain"};
    assertEquals(415, post("api/release", ofString("{\"countSeconds\":0}"), foreign).statusCode());
  }

  private static final String[] OWN = {"X-Scenespan", "1", "Content-Type", "application/json"};

  private HttpResponse<String> release(String body) throws Exception {
    return post("api/release", ofString(body), OWN);
  }

  @Test
  void closesQuicklyWithStreamsOpen() throws Exception {
    int port = dashboard.port();
    try (EventStream one = EventStream.open(client, at("api/events"));
        EventStream two = EventStream.open(client, at("api/events"))) {
      one.next();
      two.next();
      assertTimeoutPreemptively(Duration.ofSeconds(2), dashboard::close);
      assertTrue(one.ends());
      assertTrue(two.ends());
    }
    assertThrows(
        IOException.class, () -> new Socket(InetAddress.getLoopbackAddress(), port).close());
  }

  @Test
  void aSlowReaderHoldsUpNeitherTheJournalNorTheClose() throws Exception {
    String wide = "\"reason\":\"" + "x".repeat(100_000) + "\"";
    try (EventStream slow = EventStream.open(client, at("api/events"))) {
      slow.next();
      for (int i = 0; i < 300; i++) {
        records.append("frame-skipped", wide);
      }
      try (EventStream quick = EventStream.open(client, at("api/events?since=299"))) {
        assertEquals("300", quick.nextRecord().id());
      }
      assertTimeoutPreemptively(Duration.ofSeconds(6), dashboard::close);
    }
  }

  @Test
  void servesAPreview() throws Exception {
    HttpResponse<byte[]> answer =
        client.send(
            HttpRequest.newBuilder(URI.create(at("previews/preview-SCN_0001.jpg"))).build(),
            BodyHandlers.ofByteArray());
    assertEquals(200, answer.statusCode());
    assertEquals(3, answer.body().length);
    assertEquals("image/jpeg", answer.headers().firstValue("Content-Type").orElse(""));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/previews/none.jpg",
        "/previews/notes.txt",
        "/previews/../secret.jpg",
        "/previews/..%2fsecret.jpg",
        "/previews/%2e%2e%2fsecret.jpg",
        "/previews/..",
        "/previews/.jpg",
        "/previews/a%00.jpg",
        "/../../org/scenespan/dashboard/Dashboard.class",
        "/..%2f..%2forg/scenespan/dashboard/Dashboard.class",
        "/%2e%2e/org/scenespan/dashboard/Dashboard.class",
        "/./../META-INF/MANIFEST.MF",
        "/org/scenespan/dashboard/Dashboard.class",
        "/api/none",
        "/views/",
      })
  void servesNothingElse(String path) throws Exception {
    String answer =
        raw(
            "GET "
                + path
                + " HTTP/1.1\r\nHost: 127.0.0.1:"
                + dashboard.port()
                + "\r\nConnection: close\r\n\r\n");
    assertTrue(answer.matches("(?s)HTTP/1.1 (400|404) .*"), answer);
  }

  @Test
  void saysInJsonThatThereIsNothing() throws Exception {
    HttpResponse<String> answer = get("api/none");
    assertEquals(404, answer.statusCode());
    assertEquals("{\"error\":\"there is nothing at this address\"}", answer.body());
  }

  @Test
  void saysThatAPortIsTaken() {
    IOException taken =
        assertThrows(
            IOException.class,
            () -> new Dashboard(dashboard.port(), records, new AskedActs(asked), name -> null));
    assertTrue(taken.getMessage().contains(Integer.toString(dashboard.port())));
  }
}
