package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublisher;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

@Timeout(30)
class DashboardTest {
  @TempDir Path folder;

  private final GrowingRecords records = new GrowingRecords();
  private final List<String> asked = new CopyOnWriteArrayList<>();
  private final HttpClient client =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  private Dashboard dashboard;

  @BeforeEach
  void open() throws IOException {
    Path previews = Files.createDirectory(folder.resolve("previews"));
    Files.write(previews.resolve("preview-SCN_0001.jpg"), new byte[] {1, 2, 3});
    Files.write(previews.resolve("notes.txt"), new byte[] {4});
    Files.write(folder.resolve("secret.jpg"), new byte[] {5});
    dashboard = new Dashboard(0, records, new AskedActs(asked), Pictures.in(previews));
  }

  @AfterEach
  void close() {
    dashboard.close();
  }

  record AskedActs(List<String> asked) implements Acts {
    @Override
    public void hold() {
      asked.add("hold");
    }

    @Override
    public void goOn() {
      asked.add("continue");
    }

    @Override
    public void stop() {
      asked.add("stop");
    }
  }

  private String at(String path) {
    return dashboard.address() + path;
  }

  private HttpResponse<String> get(String path) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(at(path))).build(), BodyHandlers.ofString());
  }

  private HttpResponse<String> post(String path, BodyPublisher body, String... headers)
      throws Exception {
    HttpRequest.Builder request = HttpRequest.newBuilder(URI.create(at(path))).POST(body);
    if (headers.length > 0) {
      request.headers(headers);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  /** Sends bytes as they are and gives the whole answer back. */
  private String raw(String request) throws IOException {
    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), dashboard.port())) {
      socket.getOutputStream().write(request.getBytes(StandardCharsets.ISO_8859_1));
      return new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1);
    }
  }

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
  void closesQuicklyWithStreamsOpen() throws Exception {
    int port = dashboard.port();
    try (EventStream one = EventStream.open(client, at("api/events"));
        EventStream two = EventStream.open(client, at("api/events"))) {
      one.next();
      two.next();
      assertTimeoutPreemptively(Duration.ofSeconds(2), dashboard::close);
      assertNull(one.nextRecord());
      assertNull(two.nextRecord());
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

  @ParameterizedTest
  @CsvSource({"127.0.0.1, 200", "localhost, 200", "LocalHost, 200", "[::1], 200"})
  void answersToItsOwnNames(String host, int status) throws Exception {
    String answer =
        raw(
            "GET / HTTP/1.1\r\nHost: "
                + host
                + ":"
                + dashboard.port()
                + "\r\nConnection: close\r\n\r\n");
    assertTrue(answer.startsWith("HTTP/1.1 " + status), answer);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "Host: attacker.example",
        "Host: attacker.example:%d",
        "Host: 127.0.0.1.attacker.example:%d",
        "Host: 127.0.0.1",
        "Host: localhost:1",
        "Host: 0.0.0.0:%d",
      })
  void refusesAForeignHost(String host) throws Exception {
    for (String path :
        List.of("/", "/index.html", "/api/events", "/previews/preview-SCN_0001.jpg")) {
      String answer =
          raw(
              "GET "
                  + path
                  + " HTTP/1.1\r\n"
                  + host.formatted(dashboard.port())
                  + "\r\nConnection: close\r\n\r\n");
      assertTrue(answer.startsWith("HTTP/1.1 403"), path + ": " + answer);
      assertFalse(answer.contains("<html"), path);
    }
  }

  @Test
  void refusesARequestWithoutHost() throws Exception {
    assertTrue(raw("GET / HTTP/1.1\r\nConnection: close\r\n\r\n").startsWith("HTTP/1.1 400"));
    assertTrue(raw("GET / HTTP/1.0\r\n\r\n").startsWith("HTTP/1.1 403"));
  }

  @ParameterizedTest
  @ValueSource(strings = {"hold", "continue", "stop"})
  void handsAWishOn(String act) throws Exception {
    HttpResponse<String> answer =
        post(
            "api/" + act,
            BodyPublishers.ofString("{}"),
            "Content-Type",
            "application/json",
            "X-Scenespan",
            "1",
            "Origin",
            "http://127.0.0.1:" + dashboard.port());
    assertEquals(202, answer.statusCode());
    assertEquals(List.of(act), asked);
    assertEquals("no-store", answer.headers().firstValue("Cache-Control").orElse(""));
  }

  @ParameterizedTest
  @CsvSource(
      nullValues = "-",
      value = {
        "application/json, -, -, 403",
        "application/json, 1, http://attacker.example, 403",
        "application/json, 1, null, 403",
        "application/json, 1, http://localhost:1, 403",
        "text/plain, 1, -, 415",
        "application/x-www-form-urlencoded, 1, -, 415",
      })
  void refusesAWishFromElsewhere(String type, String own, String origin, int status)
      throws Exception {
    List<String> headers = new ArrayList<>(List.of("Content-Type", type));
    if (own != null) {
      headers.addAll(List.of("X-Scenespan", own));
    }
    if (origin != null) {
      headers.addAll(List.of("Origin", origin));
    }
    HttpResponse<String> answer =
        post("api/stop", BodyPublishers.ofString("{}"), headers.toArray(String[]::new));
    assertEquals(status, answer.statusCode());
    assertTrue(answer.body().startsWith("{\"error\":\""), answer.body());
    assertEquals(List.of(), asked);
  }

  @Test
  void refusesAnEndlessBody() throws Exception {
    String[] headers = {"Content-Type", "application/json", "X-Scenespan", "1"};
    assertEquals(
        413,
        post("api/stop", BodyPublishers.ofByteArray(new byte[Door.MOST_BODY_BYTES + 1]), headers)
            .statusCode());
    assertEquals(
        413,
        post("api/stop", BodyPublishers.ofInputStream(() -> InputStream.nullInputStream()), headers)
            .statusCode());
    assertEquals(List.of(), asked);
  }

  @Test
  void grantsNoPreflight() throws Exception {
    HttpRequest preflight =
        HttpRequest.newBuilder(URI.create(at("api/stop")))
            .method("OPTIONS", BodyPublishers.noBody())
            .headers("Origin", "http://attacker.example", "Access-Control-Request-Method", "POST")
            .build();
    HttpResponse<String> answer = client.send(preflight, BodyHandlers.ofString());
    assertTrue(answer.statusCode() >= 400, "status " + answer.statusCode());
    assertTrue(answer.headers().firstValue("Access-Control-Allow-Origin").isEmpty());
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

  @ParameterizedTest
  @ValueSource(strings = {"", "index.html", "main.js", "api/none"})
  void everyAnswerCarriesThePolicy(String path) throws Exception {
    HttpResponse<String> answer = get(path);
    String policy = answer.headers().firstValue("Content-Security-Policy").orElse("");
    assertTrue(policy.contains("default-src 'self'"), policy);
    assertTrue(policy.contains("frame-ancestors 'none'"), policy);
    assertFalse(policy.contains("unsafe"), policy);
    assertEquals("nosniff", answer.headers().firstValue("X-Content-Type-Options").orElse(""));
    assertEquals("no-referrer", answer.headers().firstValue("Referrer-Policy").orElse(""));
    assertEquals(
        List.of(path.startsWith("api") ? "no-store" : "no-cache"),
        answer.headers().allValues("Cache-Control"));
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
