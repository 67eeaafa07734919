package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.InputStream;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class DoorTest extends OpenDashboard {
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
        411,
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
}
