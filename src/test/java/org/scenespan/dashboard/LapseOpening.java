package org.scenespan.dashboard;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Measures how long the page of a running lapse takes to open: in a real browser, from the
 * navigation until the last frame and the course are drawn, and what of it the program takes. The
 * first go finds everything cold.
 */
public final class LapseOpening {
  private static final int GOES = 10;
  private static final double GOAL_MILLIS = 1_000;

  /** Notes when all is drawn: the screen's frame after the one in which it is all there. */
  private static final String WATCH =
      """
      window.opened = new Promise((done) => requestAnimationFrame(function look() {
        const heading = document.getElementById("vigil")?.querySelector("h2")?.textContent ?? "";
        const picture = document.getElementById("preview");
        const there = Number(heading.match(/frame (\\d+)/)?.[1]) >= %d
          && document.getElementById("course-light")?.getAttribute("d")?.startsWith("M")
          && picture?.src.includes("%s") && picture.complete && picture.naturalWidth > 0;
        if (there) requestAnimationFrame(() => setTimeout(() => done(performance.now()), 0));
        else requestAnimationFrame(look);
      }));
      """;

  private final HttpClient client = HttpClient.newHttpClient();
  private final String address;
  private final List<Double> document = new ArrayList<>();
  private final List<Double> soFar = new ArrayList<>();
  private final List<Double> ahead = new ArrayList<>();
  private final List<Double> opened = new ArrayList<>();
  private long soFarBytes;

  private LapseOpening(String address) {
    this.address = address;
  }

  /**
   * The results as a part of the page of the benchmark.
   *
   * @param dashboard of the session, which stands still meanwhile
   * @param place of the last frame that is here
   * @param file its name
   */
  public static String measured(Dashboard dashboard, int place, String file) throws Exception {
    LapseOpening opening = new LapseOpening(dashboard.address());
    Path profile = Files.createTempDirectory("lapse-opening");
    try (Browser browser = new Browser(profile)) {
      browser.resize(1280, 800);
      browser.beforeEachPage(String.format(Locale.ROOT, WATCH, place, file));
      for (int go = 0; go < GOES; go++) {
        opening.go(browser);
      }
    } finally {
      try (Stream<Path> all = Files.walk(profile)) {
        for (Path each : all.sorted(Collections.reverseOrder()).toList()) {
          Files.deleteIfExists(each);
        }
      }
    }
    return opening.text(place);
  }

  private void go(Browser browser) throws IOException, InterruptedException {
    browser.open("about:blank");
    browser.open(address);
    // Waits within the page: asking again and again would take some of the time that is measured.
    opened.add(((Number) browser.run("return window.opened")).doubleValue());
    get("", document);
    soFarBytes = get("api/so-far", soFar);
    get("api/ahead", ahead);
  }

  /** Gets one answer whole and notes how long that took; answers its bytes. */
  private long get(String path, List<Double> times) throws IOException, InterruptedException {
    long start = System.nanoTime();
    HttpResponse<InputStream> response = send(path);
    long bytes;
    try (InputStream body = response.body()) {
      bytes = body.readAllBytes().length;
    }
    times.add((System.nanoTime() - start) / 1e6);
    if (response.statusCode() != 200) {
      throw new IOException(path + " answers " + response.statusCode());
    }
    return bytes;
  }

  private HttpResponse<InputStream> send(String path) throws IOException, InterruptedException {
    HttpRequest request = HttpRequest.newBuilder(URI.create(address).resolve(path)).build();
    return client.send(request, HttpResponse.BodyHandlers.ofInputStream());
  }

  /** All records from the first on, as no lapse's page asks for them: how many, how long. */
  private String replayed() throws IOException, InterruptedException {
    long newest = 0;
    long count = 0;
    long bytes = 0;
    long start = System.nanoTime();
    double first = 0;
    try (BufferedReader lines =
        new BufferedReader(
            new InputStreamReader(send("api/events?since=0").body(), StandardCharsets.UTF_8))) {
      while (newest == 0 || count < newest) {
        String line = lines.readLine();
        if (count == 0 && first == 0) {
          first = (System.nanoTime() - start) / 1e6;
        }
        bytes += line.length() + 1;
        if (line.startsWith("id: ")) {
          count = Long.parseLong(line.substring(4));
        } else if (line.contains("\"newest\":")) {
          newest = Long.parseLong(line.replaceAll(".*\"newest\":(\\d+).*", "$1"));
        }
      }
    }
    return String.format(
        Locale.ROOT,
        "%d records, %.0f MB, first byte after %.0f ms, all after %.1f s",
        count,
        bytes / 1e6,
        first,
        (System.nanoTime() - start) / 1e9);
  }

  private String text(int place) throws IOException, InterruptedException {
    return String.format(
        Locale.ROOT,
        """

        ## Its page

        The page of that lapse is opened after %d frames, while the session waits: from the navigation
        until the last frame's picture and the course are drawn, in a Chromium of its own. The first go
        finds the program's page and the browser cold; all count.

        | ms | worst | all goes |
        | --- | --- | --- |
        | **navigation to the last frame drawn** | **%.0f** | %s |
        | the document | %.0f | %s |
        | the lapse so far, %.0f kB | %.0f | %s |
        | what is to come | %.0f | %s |

        The goal is that the worst is below %.0f ms: %s. The whole journal, which a lapse's page does not
        ask for: %s.
        """,
        place,
        Collections.max(opened),
        words(opened),
        Collections.max(document),
        words(document),
        soFarBytes / 1e3,
        Collections.max(soFar),
        words(soFar),
        Collections.max(ahead),
        words(ahead),
        GOAL_MILLIS,
        Collections.max(opened) < GOAL_MILLIS ? "reached" : "missed",
        replayed());
  }

  private static String words(List<Double> times) {
    return times.stream()
        .map(each -> String.format(Locale.ROOT, "%.0f", each))
        .collect(Collectors.joining(", "));
  }
}
