package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.openqa.selenium.By;

/** The page in a real browser: sizes, themes, bounds, and what it asks of the network. */
class DashboardLooksIT extends PageInBrowser {
  @Test
  void theThemeFollowsTheDeviceUntilOneIsChosen() {
    browser.prefer("prefers-color-scheme", "dark");
    browser.open(dashboard.address());
    assertTrue(browser.named("radio", "Dark").isSelected());
    browser.named("radio", "Night").click();
    assertEquals("rgba(0, 0, 0, 1)", browser.all("html").get(0).getCssValue("background-color"));
    browser.open(dashboard.address());
    assertTrue(browser.named("radio", "Night").isSelected());
  }

  @Test
  void nightSendsNoLightButRed() {
    appendUpTo(seqOf("shot-planned", 5));
    records.append("folder-lost", "\"reason\":\"it cannot be listed.\"");
    browser.named("radio", "Night").click();
    browser.click(browser.named("checkbox", "Crushed pixels dotted"));
    browser.click(browser.all("#cover-table summary").get(0));
    browser.named("button", "Hold").click();
    assertEquals(
        List.of(),
        browser.notRedAlone(".head", "#alarms", "#next", "#cover", "#frame", "#log", ".foot"));
  }

  @Test
  void nobodyStumbles() {
    appendUpTo(seqOf("shot-planned", 3));
    records.append("folder-lost", "\"reason\":\"it cannot be listed.\"");
    browser.named("image", "Preview of SCN_0001.jpg");
    browser.run("document.querySelectorAll('details').forEach(each => each.open = true)");
    assertEquals(List.of(), browser.stumblingBlocksInEveryTheme());
    browser.named("button", "Stop").click();
    browser.named("dialog", "End this session?");
    assertEquals(List.of(), browser.stumblingBlocksInEveryTheme());
    browser.named("button", "Go on").click();
    for (int i = seqOf("shot-planned", 3); i < sample.size(); i++) {
      records.append(sample.get(i).replaceFirst("\"seq\":\\d+", "\"seq\":" + (i + 2)));
    }
    awaitPhase("Covered with 4 frames");
    assertEquals(List.of(), browser.stumblingBlocksInEveryTheme());
  }

  @Test
  void withoutScriptsThePageSaysWhatItIs() {
    browser.allowScripts(false);
    try {
      browser.open(dashboard.address());
      String text = browser.text(By.tagName("body"));
      assertTrue(text.contains("needs JavaScript"), text);
      assertFalse(text.contains("Next exposure"), text);
    } finally {
      browser.allowScripts(true);
    }
  }

  @Test
  void twoThousandFramesStayInBounds() {
    appendUpTo(1);
    String exposure = "\"shutterSeconds\":0.004,\"aperture\":8.0,\"iso\":100,\"ev\":14.0";
    for (int i = 1; i <= 2_000; i++) {
      records.append(
          "shot-planned",
          "\"shot\":" + i + ",\"exposure\":{" + exposure + "},\"reason\":\"The light moves.\"");
      records.append(
          "frame-accepted",
          "\"shot\":"
              + i
              + ",\"frame\":{\"file\":\"SCN_"
              + i
              + ".jpg\","
              + exposure
              + "},"
              + "\"reachLowEv\":8.1352,\"reachHighEv\":16.903,\"clippedFraction\":0.0,"
              + "\"belowFloorFraction\":0.2");
    }
    browser.await(
        "all frames", () -> browser.text(By.id("progress")).startsWith("2000 of at most"));
    browser.click(browser.all("#cover-table summary").get(0));
    browser.await("the table", () -> browser.all("#cover-tables tbody tr").size() == 100);
    long elements = (Long) browser.run("return document.querySelectorAll('*').length");
    assertTrue(elements < 2_500, elements + " elements");
  }

  @ParameterizedTest
  @CsvSource({"1280, 800", "1024, 768", "800, 1280", "390, 844", "844, 390", "320, 640"})
  void fitsAndLooksTheSameInEveryTheme(int width, int height) throws IOException {
    browser.resize(width, height);
    appendUpTo(seqOf("shot-planned", 5));
    browser.open(dashboard.address());
    awaitPhase("Shot 5 is planned");
    for (String theme : List.of("Day", "Dark", "Night")) {
      browser.named("radio", theme).click();
      browser.await(
          "the pictures",
          () ->
              Boolean.TRUE.equals(
                  browser.run("return document.getElementById('preview').complete")));
      assertEquals(
          List.of(),
          browser.run(
              "return [...document.querySelectorAll('body *')].filter(e => {"
                  + "const b = e.getBoundingClientRect();"
                  + "return e.checkVisibility() && !e.closest('.unseen, .skip, defs') && b.width > 0"
                  + " && (b.right > innerWidth + 1 || b.left < -1);"
                  + "}).map(e => e.tagName + '#' + e.id + ' ' + e.textContent.slice(0, 20))"),
          "nothing is cut off at the side");
      assertEquals(
          List.of(),
          browser.run(
              "const texts = [...document.querySelectorAll('#cover-chart text')]"
                  + ".filter(e => e.textContent).map(e => [e, e.getBoundingClientRect()]);"
                  + "return texts.flatMap(([e, a], i) => texts.slice(i + 1).filter(([f, b]) =>"
                  + " a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 3"
                  + " && b.top < a.bottom - 3).map(([f]) => e.textContent + ' / ' + f.textContent))"),
          "no word of the chart lies on another");
      assertEquals(
          List.of(),
          browser.run(
              "return [...document.querySelectorAll('button, label, summary')].filter(e => {"
                  + "const b = e.getBoundingClientRect();"
                  + "return e.checkVisibility() && (b.height < 48 || b.width < 48);"
                  + "}).map(e => e.textContent)"),
          "targets for gloves");
      browser.keep(width + "x" + height + "-" + theme.toLowerCase(Locale.ROOT));
    }
  }

  /** At the end a hole is named in words and marked on the curve's axis. */
  @ParameterizedTest
  @CsvSource({"1280, 1000", "390, 844"})
  void aHoleIsNamedAndMarked(int width, int height) throws IOException {
    browser.resize(width, height);
    appendUpTo(seqOf("shot-planned", 5));
    StringBuilder points = new StringBuilder();
    for (int i = 0; i <= 40; i++) {
      double ev = -2 + 0.5 * i;
      double best = i < 6 ? 2 + i : i > 17 && i < 22 ? 5 : 20 + 15 * (i % 17);
      points.append(i == 0 ? "" : ",");
      points.append("{\"ev\":" + ev + ",\"best\":" + best + ",\"merged\":" + 1.2 * best + "}");
    }
    records.append(
        "report",
        "\"kind\":\"bracket\",\"covered\":false,\"stopped\":\"limit\",\"why\":\"Open below by"
            + " 1.5 stops.\",\"spanLowEv\":-2,\"spanHighEv\":18,\"frames\":[],"
            + "\"openAboveStops\":0,\"openBelowStops\":1.5,\"gapStops\":1,\"elapsedSeconds\":14,"
            + "\"coverage\":["
            + points
            + "],\"holes\":[\"From EV -2.0 to EV 1.0 no frame reaches it.\",\"From EV 7.0 to EV"
            + " 8.5 no frame reaches it.\"]");
    browser.await(
        "the hole",
        () -> browser.text(By.id("coverage-caption")).contains("From EV 7.0 to EV 8.5"));
    for (String theme : List.of("Day", "Dark", "Night")) {
      browser.named("radio", theme).click();
      assertEquals(
          2L,
          browser.run(
              "return (document.getElementById('coverage-hole').getAttribute('d')"
                  + ".match(/M/g) ?? []).length"));
      assertEquals(
          true,
          browser.run(
              "const b = document.getElementById('coverage-chart').getBoundingClientRect();"
                  + "return b.right <= innerWidth"));
      browser.run("document.getElementById('coverage').scrollIntoView({block: 'center'})");
      browser.keep("hole-" + width + "-" + theme.toLowerCase(Locale.ROOT));
    }
    browser.run("document.querySelectorAll('details').forEach(each => each.open = true)");
    assertEquals(List.of(), browser.stumblingBlocksInEveryTheme());
  }

  @ParameterizedTest
  @ValueSource(strings = {"running", "ended"})
  void asksNothingOfAnyOtherAddressAndComplainsOfNothing(String when) throws Exception {
    appendUpTo(when.equals("ended") ? sample.size() : seqOf("span-estimated", 2));
    browser.open(dashboard.address());
    browser.await("a frame", () -> !browser.text(By.id("frame-caption")).isEmpty());
    for (String theme : List.of("Dark", "Night", "Day")) {
      browser.named("radio", theme).click();
    }
    assertEquals(List.of(), ForeignRequests.in(browser.network()));
    assertEquals(List.of(), browser.complaints());
  }
}
