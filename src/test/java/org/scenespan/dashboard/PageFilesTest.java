package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.regex.Pattern;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class PageFilesTest extends OpenDashboard {
  private static final Pattern NAMED =
      Pattern.compile("<(?:script type=\"module\" src|link rel=\"stylesheet\" href)=\"([^\"]+)\"");

  @ParameterizedTest
  @CsvSource({"main.js, text/javascript", "styles/index.css, text/css"})
  void aFileIsAnsweredWithAllThatItImports(String name, String type) throws Exception {
    HttpResponse<String> plain = get(name);
    assertEquals(200, plain.statusCode());
    assertEquals(type + ";charset=utf-8", header(plain, "Content-Type").replace(" ", ""));
    assertEquals("no-cache", header(plain, "Cache-Control"));
    assertEquals(
        name.endsWith(".js")
            ? Joined.script(name, PageFiles::text)
            : Joined.sheet(name, PageFiles::text),
        plain.body());

    HttpResponse<byte[]> packed =
        client.send(asking(name, "Accept-Encoding", "gzip, br"), BodyHandlers.ofByteArray());
    assertEquals("gzip", header(packed, "Content-Encoding"));
    assertTrue(packed.body().length * 3 < plain.body().length(), "it is smaller");
    try (GZIPInputStream in = new GZIPInputStream(new ByteArrayInputStream(packed.body()))) {
      assertEquals(plain.body(), new String(in.readAllBytes(), StandardCharsets.UTF_8));
    }

    String tag = header(plain, "ETag");
    HttpResponse<String> known =
        client.send(asking(name, "If-None-Match", tag), BodyHandlers.ofString());
    assertEquals(304, known.statusCode());
    assertEquals("", known.body());
    assertEquals(tag, header(known, "ETag"));
    assertEquals(304, statusOf(asking(name, "If-None-Match", "W/\"0\", " + tag)));
    assertEquals(200, statusOf(asking(name, "If-None-Match", "W/\"0\"")));
  }

  @ParameterizedTest
  @CsvSource({
    "gzip, gzip",
    "'br, gzip;q=0.5', gzip",
    "'gzip;q=0', ''",
    "'br, gzip; q=0.00', ''",
    "'xgzip', ''",
  })
  void isCompressedForThoseWhoTakeThat(String accepted, String encoding) throws Exception {
    HttpResponse<byte[]> answer =
        client.send(asking("plan.js", "Accept-Encoding", accepted), BodyHandlers.ofByteArray());
    assertEquals(encoding, header(answer, "Content-Encoding"));
  }

  private int statusOf(HttpRequest request) throws Exception {
    return client.send(request, BodyHandlers.ofString()).statusCode();
  }

  @Test
  void aHeadTellsWhatTheFileWouldBe() throws Exception {
    HttpRequest request =
        HttpRequest.newBuilder(URI.create(at("plan.js")))
            .method("HEAD", HttpRequest.BodyPublishers.noBody())
            .build();
    HttpResponse<String> head = client.send(request, BodyHandlers.ofString());
    assertEquals(200, head.statusCode());
    assertEquals("", head.body());
    HttpResponse<String> whole = get("plan.js");
    for (String name : List.of("Content-Type", "Content-Length", "ETag", "Vary", "Cache-Control")) {
      assertNotEquals("", header(whole, name), name);
      assertEquals(header(whole, name), header(head, name), name);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"index.html", "guest.html", "plan.html"})
  void aPageNamesNoFileThatIsNotJoined(String page) {
    List<String> named =
        NAMED.matcher(PageFiles.text(page)).results().map(each -> each.group(1)).toList();
    assertEquals(2, named.size());
    assertTrue(PageFiles.names().containsAll(named), named.toString());
  }

  private HttpRequest asking(String name, String header, String value) {
    return HttpRequest.newBuilder(URI.create(at(name))).header(header, value).build();
  }

  private static String header(HttpResponse<?> answer, String name) {
    return answer.headers().firstValue(name).orElse("");
  }
}
