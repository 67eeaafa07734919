package org.scenespan.dashboard;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;

/** A dashboard over the sample session, and a real browser that looks at it. */
@Tag("browser")
@Timeout(120)
abstract class PageInBrowser {
  static final String NEXT = "Next exposure";
  static final String COVER = "The scene and its cover";
  static final String LOG = "What was decided, and why";

  @TempDir static Path profile;
  static Browser browser;
  static List<String> sample;

  final GrowingRecords records = new GrowingRecords();
  final List<String> asked = new CopyOnWriteArrayList<>();
  Dashboard dashboard;

  @BeforeAll
  static void begin() throws IOException {
    browser = new Browser(profile);
    sample = Files.readAllLines(RidgeSample.JOURNAL);
  }

  @AfterAll
  static void end() {
    if (browser != null) {
      browser.close();
    }
  }

  @BeforeEach
  void open() throws IOException {
    browser.resize(1280, 800);
    browser.prefer("prefers-color-scheme", "light");
    dashboard = serve(new RidgeScene());
    browser.open(dashboard.address());
    browser.run("localStorage.clear()");
    browser.complaints();
    browser.network();
  }

  @AfterEach
  void close() {
    dashboard.close();
  }

  Dashboard serve(Pictures pictures) throws IOException {
    return new Dashboard(0, records, new OpenDashboard.AskedActs(asked), pictures);
  }

  void appendUpTo(int seq) {
    for (int i = records.since(0).size(); i < seq; i++) {
      records.append(sample.get(i));
    }
  }

  static int seqOf(String type, int nth) {
    int found = 0;
    for (int i = 0; i < sample.size(); i++) {
      if (sample.get(i).contains("\"type\":\"" + type + "\"") && ++found == nth) {
        return i + 1;
      }
    }
    throw new IllegalArgumentException("the sample has no " + type + " number " + nth);
  }

  void awaitPhase(String words) {
    browser.await("phase " + words, () -> browser.text(By.id("phase")).equals(words));
  }

  void awaitIn(String region, String words) {
    browser.await(words + " in " + region, () -> browser.textIn(region).contains(words));
  }

  static int frameRows() {
    return browser.all("#cover-rows .row:not(.coming)").size();
  }
}
