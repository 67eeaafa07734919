package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/** The page in a real browser, found and used by role and name. */
class DashboardPageIT extends PageInBrowser {
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
    browser.named("checkbox", "Clipped pixels hatched");
    browser.run("document.activeElement.blur()");
    StringBuilder order = new StringBuilder();
    for (int i = 0; i < 16; i++) {
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
        "To the next exposure|Day|As tables|"
            + "The picture: + and − zoom, arrow keys move, 0 shows all of it|"
            + "Keep|Reject|Note|Closer|Farther|Full screen|"
            + "Clipped pixels hatched|Crushed pixels dotted|Frames|Plan an exposure|Hold|Stop|",
        order.toString());
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
    appendUpTo(seqOf("shot-planned", 2));
    awaitPhase("Shot 2 is planned");
    int port = dashboard.port();
    dashboard.close();
    browser.await(
        "the alarm", () -> browser.text(By.id("alarms")).contains("The program does not answer"));
    GrowingRecords others = new GrowingRecords();
    sample.subList(0, seqOf("shot-planned", 1)).forEach(others::append);
    try (Dashboard other =
        new Dashboard(port, others, new OpenDashboard.AskedActs(asked), new RidgeScene())) {
      awaitPhase("Shot 1 is planned");
      assertEquals(0, frameRows());
      assertEquals(1, browser.all("#entries .entry").size());
      assertEquals(port, other.port());
    }
  }

  /** The program ends with its session: that is nothing to be alarmed at. */
  @Test
  void whatHasEndedStaysToBeReadWhenTheProgramIsGone() {
    appendUpTo(sample.size());
    awaitPhase("Covered with 4 frames");
    dashboard.close();
    browser.await("no line", () -> browser.text(By.id("page")).contains("not connected"));
    assertEquals("", browser.text(By.id("alarms")));
    assertEquals("Covered with 4 frames", browser.text(By.id("phase")));
    assertEquals(4, frameRows());
  }

  @Test
  void clippedPixelsAreMarkedAndTheMarksCanBeTakenAway() {
    appendUpTo(seqOf("span-estimated", 1));
    WebElement marks = browser.named("checkbox", "Clipped pixels hatched");
    assertTrue(marks.isSelected());
    assertFalse(browser.named("checkbox", "Crushed pixels dotted").isSelected());
    // The sun's halo, 66 % across and 40 % down, is clipped: dark lines stand on white.
    browser.await("hatching on the sun", () -> darkestAt(0.66, 0.40) < 64);
    browser.click(marks);
    browser.await("no hatching", () -> darkestAt(0.66, 0.40) > 200);
    assertTrue(brightestAt(0.1, 0.9) < 64, "the foreground is dark");
    browser.click(browser.named("checkbox", "Crushed pixels dotted"));
    browser.await("dots on the foreground", () -> brightestAt(0.72, 0.95) > 128);
    assertTrue(darkestAt(0.66, 0.40) > 200, "the sun is not crushed");
  }

  private int darkestAt(double u, double v) {
    return levels(u, v).min().orElseThrow();
  }

  private int brightestAt(double u, double v) {
    return levels(u, v).max().orElseThrow();
  }

  /** Green levels of the picture as it is seen, around a point of it. */
  private IntStream levels(double u, double v) {
    BufferedImage seen = browser.look(browser.all("#picture").get(0));
    int x = (int) (u * seen.getWidth());
    int y = (int) (v * seen.getHeight());
    return IntStream.range(0, 100)
        .map(i -> seen.getRGB(x - 5 + i % 10, y - 5 + i / 10) >> 8 & 0xff);
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
}
