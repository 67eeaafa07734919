package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.InetAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What a guest's link opens, and what it does not; every caller is on another machine. */
@Timeout(30)
class GuestTest {
  private static final Pattern LINK = Pattern.compile("\"link\":\"([^\"]+)\"");
  private static final byte[] PREVIEW = {1, 2, 3};

  private final GrowingRecords records = new GrowingRecords();
  private final List<String> asked = new ArrayList<>();
  private final HttpClient client =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();
  private Optional<String> kept = Optional.empty();
  private Pairing pairing;
  private Dashboard dashboard;
  private String operator;

  @BeforeEach
  void open() throws Exception {
    Random chance = new Random(5);
    pairing =
        new Pairing(
            () -> Instant.parse("2026-05-04T03:00:00Z"),
            () -> {
              byte[] bytes = new byte[32];
              chance.nextBytes(bytes);
              return bytes;
            });
    records.append("session-opened", "\"kind\":\"tether\"");
    dashboard =
        new Dashboard(
            0,
            records,
            new OpenDashboard.AskedActs(asked),
            new Pictures() {
              @Override
              public Optional<byte[]> named(String name) {
                return Optional.of(PREVIEW);
              }

              @Override
              public Optional<String> latest() {
                return Optional.of("preview-F_0007.JPG.jpg");
              }

              @Override
              public Optional<String> latestKept() {
                return kept;
              }
            },
            new Dashboard.Reach(
                InetAddress.getByAddress(new byte[] {127, 0, 0, 1}),
                pairing,
                (ours, theirs) -> false,
                Duration.ofSeconds(10)));
    operator = paired(pairing.operatorCode());
  }

  @AfterEach
  void close() {
    dashboard.close();
  }

  private String paired(String code) throws Exception {
    return cookie(send("POST", "api/pair", "", "", code));
  }

  private static String cookie(HttpResponse<?> answer) {
    assertEquals(200, answer.statusCode());
    String set = answer.headers().firstValue("Set-Cookie").orElseThrow();
    return set.substring(0, set.indexOf(';'));
  }

  /** A request as the page sends it. */
  private HttpResponse<String> send(
      String method, String path, String cookie, String body, String code) throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(dashboard.address() + path))
            .header("X-Scenespan", "1")
            .header("Content-Type", "application/json")
            .method(
                method, body.isEmpty() ? BodyPublishers.noBody() : BodyPublishers.ofString(body));
    if (!cookie.isEmpty()) {
      request.header("Cookie", cookie);
    }
    if (!code.isEmpty()) {
      request.header(Dashboard.CODE_HEADER, code);
    }
    return client.send(request.build(), BodyHandlers.ofString());
  }

  private String link() throws Exception {
    HttpResponse<String> made = send("POST", "api/guests", operator, "{\"link\":true}", "");
    Matcher link = LINK.matcher(made.body());
    assertTrue(link.find(), made.body());
    return link.group(1);
  }

  private String guest() throws Exception {
    String link = link();
    return cookie(send("POST", "guest/enter", "", "", link.substring(link.indexOf('#') + 1)));
  }

  private void show(String what) throws Exception {
    assertEquals(
        200, send("POST", "api/guests", operator, "{\"shows\":\"" + what + "\"}", "").statusCode());
  }

  private HttpResponse<String> looks(String guest, String path) throws Exception {
    return send("GET", path, guest, "", "");
  }

  @Test
  void seesWhatTheOperatorChooses() throws Exception {
    String guest = guest();
    assertEquals("{}", looks(guest, "guest/now").body());
    assertEquals(404, looks(guest, "guest/picture").statusCode());
    show("latest");
    String view = looks(guest, "guest/now").body();
    assertTrue(view.matches("\\{\"view\":\"[0-9a-f]{16}\"}"), view);
    assertEquals(view, looks(guest, "guest/now").body());
    HttpResponse<String> picture = looks(guest, "guest/picture?view=any");
    assertEquals(new String(PREVIEW), picture.body());
    assertFalse(picture.headers().map().toString().contains("F_0007"), "no name goes with it");
    assertEquals(Optional.of("no-store"), picture.headers().firstValue("Cache-Control"));
    show("kept");
    assertEquals("{}", looks(guest, "guest/now").body());
    kept = Optional.of("preview-F_0003.JPG.jpg");
    assertFalse(looks(guest, "guest/now").body().equals(view));
    show("nothing");
    assertEquals("{}", looks(guest, "guest/now").body());
  }

  @Test
  void isRefusedEverywhereElse() throws Exception {
    String guest = guest();
    show("latest");
    assertEquals(200, looks(guest, "guest/picture").statusCode());
    String token = guest.substring(guest.indexOf('=') + 1);
    String both = guest + "; scenespan-" + dashboard.port() + "=" + token;
    // These answer anybody: one says that nobody is paired here, two take a code; and the page's
    // own files.
    Set<String> open = new HashSet<>(Set.of("GET /api/me", "POST /api/pair", "POST /guest/enter"));
    PageFiles.names().forEach(name -> open.add("GET /" + name));
    Set<String> own = Set.of("GET /guest/now", "GET /guest/picture");
    List<String> refused = new ArrayList<>();
    for (String route : dashboard.routes()) {
      String[] parts = route.split(" ");
      boolean handler = parts[0].equals("GET") || parts[0].equals("POST");
      if (!handler || open.contains(route) || own.contains(route)) {
        continue;
      }
      String path = parts[1].substring(1).replace("{name}", "preview-F_0007.JPG.jpg");
      for (String cookie : List.of(guest, both)) {
        assertEquals(401, send(parts[0], path, cookie, "", "").statusCode(), route);
      }
      refused.add(route);
    }
    assertTrue(refused.size() >= 13, "routes are found: " + refused);
    assertTrue(refused.contains("GET /api/events") && refused.contains("POST /api/release"));
    assertEquals(List.of(), asked);
    assertEquals(
        "{\"role\":\"none\",\"local\":false}", looks(both, "api/me").body(), "it is nobody");
  }

  @Test
  void aWithdrawnLinkIsGoodForNothing() throws Exception {
    String link = link();
    String guest = guest();
    show("latest");
    assertTrue(
        send("POST", "api/guests", operator, "{\"link\":false}", "")
            .body()
            .equals("{\"shows\":\"nothing\",\"came\":0}"));
    for (String path : List.of("guest/now", "guest/picture")) {
      assertEquals(401, looks(guest, path).statusCode());
    }
    String secret = link.substring(link.indexOf('#') + 1);
    assertEquals(403, send("POST", "guest/enter", "", "", secret).statusCode());
    assertFalse(link().equals(link), "a new link has a new secret");
    assertEquals(403, send("POST", "guest/enter", "", "", secret).statusCode());
    assertEquals(401, looks(guest, "guest/now").statusCode());
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "0", "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA"})
  void anotherSecretOpensNothing(String wrong) throws Exception {
    assertEquals(403, send("POST", "guest/enter", "", "", wrong).statusCode(), "without a link");
    String link = link();
    assertEquals(403, send("POST", "guest/enter", "", "", wrong).statusCode());
    String secret = link.substring(link.indexOf('#') + 1);
    assertEquals(43, secret.length(), "256 bits");
    assertEquals(
        403,
        send("POST", "guest/enter?code=" + secret, "", "", "").statusCode(),
        "an address is not read");
    assertEquals(401, looks("", "guest/now").statusCode());
  }

  @Test
  void theLinkIsTheOperatorsAlone() throws Exception {
    link();
    String viewer = paired(pairing.viewerCode());
    assertEquals(403, looks(viewer, "api/guests").statusCode());
    assertEquals(403, send("POST", "api/guests", viewer, "{\"link\":true}", "").statusCode());
    assertEquals(401, looks("", "api/guests").statusCode());
    for (String wrong : List.of("{}", "{\"shows\":\"all\"}", "[]")) {
      assertEquals(400, send("POST", "api/guests", operator, wrong, "").statusCode(), wrong);
    }
  }

  @Test
  void theOldestOfTooManyMakesRoom() throws Exception {
    String first = guest();
    List<String> later = new ArrayList<>();
    for (int i = 0; i < Guests.MOST; i++) {
      later.add(guest());
    }
    assertEquals(401, looks(first, "guest/now").statusCode());
    assertEquals(200, looks(later.get(0), "guest/now").statusCode());
    assertTrue(looks(operator, "api/guests").body().contains("\"came\":16"));
  }
}
