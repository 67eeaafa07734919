package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** The page in a real browser, found and used by role and name. */
@Tag("browser")
@Timeout(120)
class DashboardPageIT {
  private static final String NEXT = "Next exposure";
  private static final String COVER = "The scene and its cover";
  private static final String LOG = "What was decided, and why";

  @TempDir static Path profile;
  private static Browser browser;
  private static List<String> sample;

  private final GrowingRecords records = new GrowingRecords();
  private final List<String> asked = new CopyOnWriteArrayList<>();
  private Dashboard dashboard;

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
    dashboard = serve(new RidgeSample());
    browser.open(dashboard.address());
    browser.run("localStorage.clear()");
    browser.complaints();
    browser.network();
  }

  @AfterEach
  void close() {
    dashboard.close();
  }

  private Dashboard serve(Pictures pictures) throws IOException {
    return new Dashboard(0, records, new DashboardTest.AskedActs(asked), pictures);
  }

  private void appendUpTo(int seq) {
    for (int i = records.since(0).size(); i < seq; i++) {
      records.append(sample.get(i));
    }
  }

  private static int seqOf(String type, int nth) {
    int found = 0;
    for (int i = 0; i < sample.size(); i++) {
      if (sample.get(i).contains("\"type\":\"" + type + "\"") && ++found == nth) {
        return i + 1;
      }
    }
    throw new IllegalArgumentException("the sample has no " + type + " number " + nth);
  }

  private void awaitPhase(String words) {
    browser.await("phase " + words, () -> browser.text(By.id("phase")).equals(words));
  }

  private void awaitIn(String region, String words) {
    browser.await(words + " in " + region, () -> browser.textIn(region).contains(words));
  }

  private static int frameRows() {
    return browser.all("#cover-rows .row:not(.coming)").size();
  }

  @Test
  void theCoverGrowsWithTheSession() throws IOException {
    awaitPhase("Waiting for the session");
    assertTrue(browser.textIn(COVER).contains("No frame has been measured yet"));
    assertFalse(browser.has("button", "Stop"), "there is nothing to stop yet");

    appendUpTo(seqOf("shot-planned", 1));
    awaitPhase("Shot 1 is planned");
    String next = browser.textIn(NEXT);
    assertTrue(next.contains("1/250 s") && next.contains("f/8") && next.contains("EV 14.0"), next);
    assertTrue(next.contains("two stops under the meter's EV 12.0"), next);
    assertEquals(1, browser.all("#cover-rows .coming").size());

    appendUpTo(seqOf("span-estimated", 1));
    awaitIn(COVER, "open below by 4.0 stops, open above by 1.1 stops");
    assertEquals(1, frameRows());
    browser.named("image", "Preview of SCN_0001.jpg");

    appendUpTo(seqOf("span-estimated", 3));
    awaitIn(COVER, "3 frames hold a part of it");
    assertEquals(3, frameRows());
    assertTrue(browser.textIn(LOG).contains("Shot 2 left no frame"));

    appendUpTo(sample.size());
    awaitPhase("Covered with 4 frames");
    awaitIn(COVER, "4 frames hold all of it.");
    assertEquals(4, frameRows());
    assertTrue(browser.textIn("Result").contains("the sun's disc was let go"));
    assertFalse(browser.has("button", "Stop"), "there is nothing to stop any more");
    assertEquals("Covered with 4 frames – Scenespan", browser.title());
  }

  @Test
  void holdIsPendingUntilTheSessionSaysSo() throws IOException {
    appendUpTo(seqOf("shot-planned", 2));
    browser.named("button", "Hold").click();
    WebElement pending = browser.named("button", "Hold asked …");
    assertEquals("true", pending.getDomAttribute("aria-disabled"));
    browser.await("the wish", () -> asked.equals(List.of("hold")));
    browser.keep("1280x800-day-pending");
    pending.click();
    assertEquals("Shot 2 is planned", browser.text(By.id("phase")), "the answer alone is no proof");

    records.append("session-held", "");
    awaitPhase("Held");
    browser.named("button", "Continue").click();
    browser.named("button", "Continue asked …");
    browser.await("the wish", () -> asked.equals(List.of("hold", "continue")));
    records.append("session-continued", "");
    awaitPhase("Shot 2 is planned");
    browser.named("button", "Hold");
  }

  @Test
  void stopIsAskedTwiceAndPendingUntilTheReport() {
    appendUpTo(seqOf("shot-planned", 2));
    browser.named("button", "Stop").click();
    browser.named("dialog", "End this session?");
    browser.named("button", "Go on").click();
    browser.await("the dialog to close", () -> !browser.has("dialog", "End this session?"));
    assertEquals(List.of(), asked);

    browser.named("button", "Stop").click();
    browser.named("button", "End the session").click();
    browser.named("button", "Stop asked …");
    browser.await("the wish", () -> asked.equals(List.of("stop")));
    records.append(
        "report",
        "\"kind\":\"bracket\",\"covered\":false,\"stopped\":\"asked\",\"why\":\"Ended as asked.\","
            + "\"openAboveStops\":1.1,\"openBelowStops\":4.0,\"elapsedSeconds\":12.0");
    awaitPhase("Ended as asked");
    awaitIn("Result", "open below by 4.0 stops");
  }

  @Test
  void stopIsNotKeptWaitingByAHold() {
    appendUpTo(seqOf("shot-planned", 2));
    browser.named("button", "Hold").click();
    browser.named("button", "Hold asked …");
    browser.named("button", "Stop").click();
    browser.named("button", "End the session").click();
    browser.await("both wishes", () -> asked.equals(List.of("hold", "stop")));
  }

  @Test
  void aWishThatIsNotTakenIsToldAndCanBeMadeAgain() {
    appendUpTo(seqOf("shot-planned", 2));
    browser.named("button", "Hold");
    browser.run("window.kept = fetch; window.fetch = () => Promise.reject(new Error('cut'))");
    dashboard.hangUp();
    browser.named("button", "Hold").click();
    browser.await("the alarm", () -> browser.text(By.id("alarms")).contains("was not taken"));
    browser.run("window.fetch = window.kept");
    browser.named("button", "Hold").click();
    browser.await("the wish", () -> asked.equals(List.of("hold")));
    browser.await("no alarm", () -> browser.text(By.id("alarms")).isEmpty());
  }

  @Test
  void everythingIsReachedByTheKeyboard() {
    appendUpTo(seqOf("span-estimated", 1));
    browser.named("button", "Hold");
    browser.named("checkbox", "Mark clipped pixels");
    browser.run("document.activeElement.blur()");
    StringBuilder order = new StringBuilder();
    for (int i = 0; i < 6; i++) {
      browser.press(Keys.TAB);
      WebElement focused = browser.focused();
      order.append(focused.getAccessibleName()).append('|');
      Object outlines =
          browser.run(
              "const a = document.activeElement; return [a, a.nextElementSibling].map(e => e ?"
                  + " getComputedStyle(e).outlineStyle : 'none')");
      assertTrue(outlines.toString().contains("solid"), "focus is seen: " + order + outlines);
      assertEquals(
          true,
          browser.run(
              "const a = document.activeElement, b = a.getBoundingClientRect();"
                  + "return a.closest('.foot') !== null || a.matches('.skip')"
                  + " || b.bottom <= document.querySelector('.foot').getBoundingClientRect().top"),
          "the foot hides " + order);
    }
    assertEquals(
        "To the next exposure|Day|As tables|Mark clipped pixels|Hold|Stop|", order.toString());
    browser.named("button", "Hold").sendKeys(Keys.SPACE);
    browser.await("the wish", () -> asked.equals(List.of("hold")));
  }

  @Test
  void aFaultIsAnAlarmAndNothingElseIs() {
    appendUpTo(seqOf("shot-planned", 2));
    awaitPhase("Shot 2 is planned");
    assertEquals("", browser.text(By.id("alarms")));
    records.append("trigger-lost", "\"reason\":\"the port is gone.\"");
    browser.await("the alarm", () -> browser.text(By.id("alarms")).contains("The trigger is lost"));
    assertEquals("alert", browser.all("#alarms").get(0).getAriaRole());
    awaitPhase("Waiting for the trigger");
    records.append("trigger-greeted", "\"identity\":\"Reference trigger\"");
    browser.await("no alarm", () -> browser.text(By.id("alarms")).isEmpty());
  }

  @Test
  void comesBackWithoutGapOrRepeatWhenTheLineBreaks() {
    appendUpTo(seqOf("span-estimated", 1));
    awaitIn(COVER, "1 frame holds");
    int entries = browser.all("#entries .entry").size();
    for (int i = 0; i < 3; i++) {
      dashboard.hangUp();
    }
    appendUpTo(seqOf("span-estimated", 2));
    awaitIn(COVER, "2 frames hold");
    assertEquals(2, frameRows());
    // Between the two: the second plan, the loss, the plan of the repeat.
    assertEquals(entries + 3, browser.all("#entries .entry").size());
    browser.await("no alarm", () -> browser.text(By.id("alarms")).isEmpty());
  }

  @Test
  void saysThatTheProgramIsGoneAndTakesUpAnotherRunOfIt() throws IOException {
    appendUpTo(sample.size());
    awaitPhase("Covered with 4 frames");
    int port = dashboard.port();
    dashboard.close();
    browser.await(
        "the alarm", () -> browser.text(By.id("alarms")).contains("The program does not answer"));
    GrowingRecords others = new GrowingRecords();
    sample.subList(0, seqOf("shot-planned", 1)).forEach(others::append);
    try (Dashboard other =
        new Dashboard(port, others, new DashboardTest.AskedActs(asked), new RidgeSample())) {
      awaitPhase("Shot 1 is planned");
      assertEquals(0, frameRows());
      assertEquals(1, browser.all("#entries .entry").size());
      assertEquals(port, other.port());
    }
  }

  @Test
  void clippedPixelsAreMarkedAndTheMarksCanBeTakenAway() {
    appendUpTo(seqOf("span-estimated", 1));
    WebElement marks = browser.named("checkbox", "Mark clipped pixels");
    assertTrue(marks.isSelected());
    WebElement overlay = browser.all("#clipped").get(0);
    browser.await("the marks", overlay::isDisplayed);
    assertTrue(overlay.getCssValue("mask-image").contains("previews/mask-SCN_0001.png"));
    browser.click(marks);
    assertFalse(overlay.isDisplayed());
  }

  @Test
  void theChartIsThereAsTables() {
    appendUpTo(sample.size());
    awaitPhase("Covered with 4 frames");
    assertEquals(0, browser.all("#cover-tables tr").size(), "nothing is built before it is asked");
    browser.click(browser.all("#cover-table summary").get(0));
    browser.await(
        "four rows", () -> browser.all("#cover-tables table:first-child tbody tr").size() == 4);
    String table = browser.text(By.cssSelector("#cover-tables table"));
    assertTrue(table.contains("SCN_0004.jpg 30 s f/8 100 1.0 −4.9 3.9"), table);
  }

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
    for (String theme : List.of("Day", "Dark", "Night")) {
      browser.open(dashboard.address());
      awaitPhase("Shot 5 is planned");
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
      browser.keep(width + "x" + height + "-" + theme.toLowerCase(java.util.Locale.ROOT));
    }
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
    ObjectMapper mapper = new ObjectMapper();
    int asked = 0;
    for (String line : browser.network()) {
      JsonNode message = mapper.readTree(line).path("message");
      if (message.path("method").asText().equals("Network.requestWillBeSent")) {
        URI address = URI.create(message.path("params").path("request").path("url").asText());
        assertTrue(
            address.getScheme().equals("data") || "127.0.0.1".equals(address.getHost()),
            address.toString());
        asked++;
      }
    }
    assertTrue(asked > 20, asked + " requests were seen");
    assertEquals(List.of(), browser.complaints());
  }
}
