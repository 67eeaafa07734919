package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketException;
import java.net.http.HttpClient;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.locks.LockSupport;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The page opened to others, on the loopback range alone: callers from 127.0.0.2 stand for another
 * machine, those from 127.0.0.1 for the owner.
 */
@Timeout(60)
class LanTest {
  private static final Pattern TOKEN = Pattern.compile("Set-Cookie: ([^;\r]+)(.*)\r");
  private static final int MANY = 200;
  private static final Duration PATIENCE = Duration.ofMillis(400);

  private final InetAddress owner = loopback(1);
  private final InetAddress elsewhere = loopback(2);
  private final GrowingRecords records = new GrowingRecords();
  private final List<String> asked = new CopyOnWriteArrayList<>();
  private volatile Instant now = Instant.parse("2026-05-04T03:00:00Z");
  private Pairing pairing;
  private Dashboard dashboard;

  private static InetAddress loopback(int last) {
    try {
      return InetAddress.getByAddress(new byte[] {127, 0, 0, (byte) last});
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  @BeforeEach
  void open() throws IOException {
    Random chance = new Random(11);
    pairing =
        new Pairing(
            () -> now,
            () -> {
              byte[] bytes = new byte[32];
              chance.nextBytes(bytes);
              return bytes;
            });
    dashboard = serve(Duration.ofSeconds(10));
  }

  private Dashboard serve(Duration patience) throws IOException {
    return new Dashboard(
        0,
        records,
        new OpenDashboard.AskedActs(asked),
        name -> Optional.of(new byte[] {1, 2, 3}),
        new Dashboard.Reach(owner, pairing, (ours, theirs) -> theirs.equals(owner), patience));
  }

  @AfterEach
  void close() {
    dashboard.close();
  }

  private Socket connect(InetAddress from) throws IOException {
    Socket socket = new Socket(owner, dashboard.port(), from, 0);
    socket.setSoTimeout(20_000);
    return socket;
  }

  /** Sends a request as it is; the whole answer, header and body. */
  private String raw(InetAddress from, String request) throws IOException {
    try (Socket socket = connect(from)) {
      socket.getOutputStream().write(request.getBytes(StandardCharsets.ISO_8859_1));
      return new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1);
    }
  }

  private String ask(InetAddress from, String what, String... headers) throws IOException {
    StringBuilder request = new StringBuilder(what + " HTTP/1.1\r\nConnection: close\r\n");
    if (!String.join("\n", headers).contains("Host:")) {
      request.append("Host: 127.0.0.1:").append(dashboard.port()).append("\r\n");
    }
    for (String header : headers) {
      request.append(header).append("\r\n");
    }
    return raw(from, request.append("\r\n").toString());
  }

  private String post(InetAddress from, String path, String... headers) throws IOException {
    List<String> all =
        new ArrayList<>(
            List.of("X-Scenespan: 1", "Content-Type: application/json", "Content-Length: 0"));
    all.addAll(List.of(headers));
    return ask(from, "POST " + path, all.toArray(String[]::new));
  }

  private String enter(String code) throws IOException {
    return post(elsewhere, "/api/pair", "X-Scenespan-Code: " + code);
  }

  private String cookieFor(String code) throws IOException {
    Matcher token = TOKEN.matcher(enter(code));
    assertTrue(token.find());
    assertEquals("; Path=/; HttpOnly; SameSite=Strict", token.group(2));
    return "Cookie: " + token.group(1);
  }

  private static void assertStatus(int status, String answer) {
    assertTrue(answer.startsWith("HTTP/1.1 " + status + " "), answer);
  }

  @Test
  void withoutACodeThereIsOnlyThePageToEnterIt() throws IOException {
    assertStatus(200, ask(elsewhere, "GET /"));
    assertStatus(200, ask(elsewhere, "GET /main.js"));
    assertTrue(ask(elsewhere, "GET /api/me").endsWith("{\"role\":\"none\",\"local\":false}"));
    assertStatus(401, ask(elsewhere, "GET /api/events"));
    assertStatus(401, ask(elsewhere, "GET /api/so-far"));
    assertStatus(401, ask(elsewhere, "GET /api/ahead"));
    assertStatus(401, ask(elsewhere, "GET /previews/a.jpg"));
    for (String act : List.of("hold", "continue", "stop")) {
      assertStatus(401, post(elsewhere, "/api/" + act));
    }
    assertStatus(401, post(elsewhere, "/api/stop", "Cookie: " + cookieName() + "=guess"));
    assertEquals(List.of(), asked);
  }

  private String cookieName() {
    return "scenespan-" + dashboard.port();
  }

  @Test
  void anOperatorLooksAndActs() throws IOException {
    String cookie = cookieFor(pairing.operatorCode());
    assertTrue(ask(elsewhere, "GET /api/me", cookie).contains("\"role\":\"operator\""));
    assertStatus(200, ask(elsewhere, "GET /previews/a.jpg", cookie));
    assertStatus(202, post(elsewhere, "/api/hold", cookie));
    assertEquals(List.of("hold"), asked);
  }

  @Test
  void aViewerLooksOnly() throws IOException {
    String cookie = cookieFor(pairing.viewerCode());
    assertTrue(
        ask(elsewhere, "GET /api/me", cookie).endsWith("{\"role\":\"viewer\",\"local\":false}"));
    assertStatus(200, ask(elsewhere, "GET /previews/a.jpg", cookie));
    for (String act : List.of("hold", "continue", "stop")) {
      String answer = post(elsewhere, "/api/" + act, cookie);
      assertStatus(403, answer);
      assertTrue(answer.endsWith("{\"error\":\"a viewer may only look\"}"), answer);
    }
    assertEquals(List.of(), asked);
  }

  @Test
  void guessingIsSlowedAndNeverShutsTheOwnerOut() throws IOException {
    assertStatus(403, enter("x"));
    String early = enter(pairing.operatorCode());
    assertStatus(429, early);
    assertTrue(early.contains("Retry-After: 1\r"), early);
    for (int i = 0; i < 30; i++) {
      now = now.plus(Duration.ofMillis(100));
      enter("x");
    }
    assertStatus(202, post(owner, "/api/hold"));
    assertTrue(ask(owner, "GET /api/me").contains("\"wrongCodes\":3"), "1 + 2 s of waits");
    now = now.plus(Duration.ofMinutes(2));
    cookieFor(pairing.operatorCode());
  }

  @Test
  void aCodeIsTakenFromTheHeaderOnlyAndNotFromTheAddress() throws IOException {
    assertStatus(403, post(elsewhere, "/api/pair?code=" + pairing.operatorCode()));
    assertStatus(404, ask(elsewhere, "GET /api/pair", "X-Scenespan-Code: 1"));
  }

  @ParameterizedTest
  @CsvSource({
    "127.0.0.1:%d, 200",
    "localhost:%d, 200",
    "127.0.0.2:%d, 403",
    "0.0.0.0:%d, 403",
    "192.0.2.7:%d, 403",
    "[::ffff:7f00:1]:%d, 403",
    "attacker.example:%d, 403",
    "127.0.0.1.attacker.example:%d, 403",
    "127.0.0.1, 403"
  })
  void answersToTheAddressThatTheCallCameInAt(String host, int status) throws IOException {
    String header = "Host: " + host.formatted(dashboard.port());
    assertStatus(status, ask(elsewhere, "GET /", header));
  }

  @ParameterizedTest
  @ValueSource(strings = {"http://attacker.example", "null", "http://127.0.0.1:1"})
  void anotherPageGetsNothing(String origin) throws IOException {
    String cookie = cookieFor(pairing.operatorCode());
    assertStatus(403, post(elsewhere, "/api/stop", cookie, "Origin: " + origin));
    assertStatus(403, ask(elsewhere, "GET /api/events", cookie, "Origin: " + origin));
    assertStatus(
        403,
        post(
            elsewhere,
            "/api/pair",
            "X-Scenespan-Code: " + pairing.operatorCode(),
            "Origin: " + origin));
    assertEquals(List.of(), asked);
  }

  @ParameterizedTest
  @CsvSource({
    "Content-Length: 1025, 413",
    "Content-Length: 99999999999, 413",
    "Transfer-Encoding: chunked, 411"
  })
  void anOversizedBodyIsRefusedUnread(String header, int status) throws IOException {
    for (String what : List.of("POST /api/pair", "POST /api/stop", "GET /")) {
      assertStatus(status, ask(elsewhere, what, header));
    }
  }

  @Test
  void anOversizedHeadIsRefused() throws IOException {
    assertStatus(431, ask(elsewhere, "GET /", "X-Long: " + "x".repeat(9 << 10)));
    assertStatus(414, ask(elsewhere, "GET /" + "x".repeat(9 << 10)));
  }

  @Test
  void aConnectionThatDripsOrSaysNothingIsClosed() throws Exception {
    dashboard.close();
    dashboard = serve(PATIENCE);
    for (String begun :
        List.of("", "GET / HTTP/1.1\r\nX-Slow: ", "GET / HTTP/1.1\r\nHost: a\r\n\r\n")) {
      try (Socket socket = connect(elsewhere)) {
        OutputStream out = socket.getOutputStream();
        out.write(begun.getBytes(StandardCharsets.ISO_8859_1));
        // A drip is never idle: it ends by the patience, or the test by its time limit.
        CompletableFuture<Void> drip = CompletableFuture.runAsync(() -> drip(socket));
        assertTrue(drains(socket), "closed by the server");
        drip.join();
      }
    }
  }

  @Test
  void anOpenStreamOutlastsThePatience() throws Exception {
    dashboard.close();
    dashboard = serve(PATIENCE);
    records.append("session-held", "");
    HttpClient client = HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
    try (EventStream stream = EventStream.open(client, dashboard.address() + "api/events")) {
      assertEquals("1", stream.nextRecord().id());
      // Each of these lasts one patience; a connection between two requests gets two at most.
      for (int i = 0; i < 4; i++) {
        try (Socket silent = connect(owner)) {
          assertTrue(drains(silent), "closed by the server");
        }
      }
      records.append("session-continued", "");
      assertEquals("2", stream.nextRecord().id());
    }
  }

  private static void drip(Socket socket) {
    try {
      OutputStream out = socket.getOutputStream();
      for (int i = 0; i < 1_000_000 && !socket.isClosed(); i++) {
        LockSupport.parkNanos(20_000_000);
        out.write('x');
      }
    } catch (IOException closed) {
      // What the test waits for.
    }
  }

  private static boolean drains(Socket socket) throws IOException {
    InputStream in = socket.getInputStream();
    try {
      while (in.read() >= 0) {
        continue;
      }
      return true;
    } catch (SocketException reset) {
      return true;
    }
  }

  @Test
  void bodiesThatNeverComeHoldNoThread() throws Exception {
    List<Socket> open = new ArrayList<>();
    try {
      for (int i = 0; i < 3 * Dashboard.MOST_THREADS; i++) {
        Socket socket = connect(elsewhere);
        open.add(socket);
        socket
            .getOutputStream()
            .write(
                ("POST /api/pair HTTP/1.1\r\nHost: 127.0.0.1:"
                        + dashboard.port()
                        + "\r\nX-Scenespan: 1\r\nContent-Type: application/json\r\n"
                        + "Content-Length: 1000\r\n\r\n{")
                    .getBytes(StandardCharsets.ISO_8859_1));
      }
      assertTimeoutPreemptively(
          Duration.ofSeconds(5), () -> assertStatus(202, post(owner, "/api/hold")));
    } finally {
      for (Socket socket : open) {
        socket.close();
      }
    }
  }

  @Test
  void twoHundredIdleStreamsHoldNoThreadEach() throws Exception {
    HttpClient client = HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
    records.append("session-opened", "");
    List<EventStream> streams = new ArrayList<>();
    try {
      for (int i = 0; i < MANY; i++) {
        EventStream stream = EventStream.open(client, dashboard.address() + "api/events");
        streams.add(stream);
        assertEquals("1", stream.nextRecord().id());
      }
      long threads = threads();
      assertTrue(threads <= Dashboard.MOST_THREADS + 1, threads + " threads");
      List<Long> micros = new ArrayList<>();
      long appended = 0;
      for (int seq = 2; seq <= 21; seq++) {
        long start = System.nanoTime();
        records.append("session-held", "");
        appended = Math.max(appended, System.nanoTime() - start);
        for (EventStream stream : streams) {
          assertEquals(Integer.toString(seq), stream.nextRecord().id());
        }
        micros.add((System.nanoTime() - start) / 1_000);
      }
      assertStatus(200, ask(owner, "GET /"));
      assertStatus(200, ask(elsewhere, "GET /main.js"));
      assertStatus(202, post(owner, "/api/hold"));
      micros.sort(null);
      keep(
          threads
              + " threads; record to the last stream, µs: median "
              + micros.get(10)
              + ", worst "
              + micros.get(19)
              + "; longest append, µs: "
              + appended / 1_000);
      assertTrue(appended < 1_000_000_000, "an append took " + appended + " ns");
      assertTrue(micros.get(10) < 1_000_000, "median " + micros.get(10) + " µs");
    } finally {
      dashboard.close();
      for (EventStream stream : streams) {
        stream.close();
      }
    }
  }

  private static void keep(String measured) throws IOException {
    Path artefacts = Path.of(System.getProperty("scenespan.artefacts", "target/artefacts"));
    Files.createDirectories(artefacts);
    Files.writeString(artefacts.resolve("two-hundred-streams.txt"), measured + "\n");
  }

  /** The server's threads; its own name is the only one that begins so. */
  private static long threads() {
    return Thread.getAllStackTraces().keySet().stream()
        .filter(thread -> thread.getName().startsWith("dashboard"))
        .count();
  }

  @Test
  void callersFromElsewhereLeavePlacesForTheOwner() throws Exception {
    String cookie = cookieFor(pairing.viewerCode());
    String request =
        "GET /api/events HTTP/1.1\r\nHost: 127.0.0.1:" + dashboard.port() + "\r\n" + cookie;
    List<Socket> open = new ArrayList<>();
    try {
      for (int i = 0; i < Feed.MOST_STREAMS - Feed.KEPT_FOR_LOCAL; i++) {
        Socket socket = connect(elsewhere);
        open.add(socket);
        socket.getOutputStream().write((request + "\r\n\r\n").getBytes(StandardCharsets.UTF_8));
        assertEquals('H', socket.getInputStream().read());
      }
      assertStatus(503, ask(elsewhere, "GET /api/events", cookie));
      HttpClient client = HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
      try (EventStream owners = EventStream.open(client, dashboard.address() + "api/events")) {
        assertEquals(200, owners.response().statusCode());
      }
    } finally {
      for (Socket socket : open) {
        socket.close();
      }
    }
  }

  @Test
  void theInvitationNamesTheAddressAndBothCodes() {
    Invitation invitation = dashboard.invitation().orElseThrow();
    assertEquals(List.of(dashboard.address()), invitation.addresses());
    String words = String.join("\n", invitation.words());
    String code = pairing.operatorCode();
    assertTrue(words.contains(code.substring(0, 4) + " " + code.substring(4)), words);
    assertFalse(dashboard.address().contains(code));
  }
}
