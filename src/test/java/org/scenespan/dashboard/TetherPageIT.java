package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.scenespan.jar.Program;

/** A tether on a tablet: the packaged program, frames landing in a real folder, a real browser. */
@Tag("browser")
@Timeout(180)
class TetherPageIT {
  private static final String AGAINST = "Against the reference frame";

  @TempDir private Path directory;
  private StillLife studio;
  private Program program;
  private Browser browser;
  private String address;

  @BeforeEach
  void open() throws IOException {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    studio = new StillLife(frames);
    program =
        Program.start(
            directory,
            "tether",
            "--folder",
            "frames",
            "--first-is-reference",
            "--dashboard",
            "--sessions",
            "sessions");
    address =
        program.await(line -> line.startsWith("Dashboard: ")).substring("Dashboard: ".length());
    browser = new Browser(directory.resolve("profile"));
    browser.resize(1280, 800);
    browser.network();
    browser.complaints();
    browser.open(address);
    browser.await("the phase", () -> phase().equals("Waiting for the first frame"));
    // How often it sounded: the browser under test has no loudspeaker.
    browser.run(
        "window.tones = 0; const made = AudioContext.prototype.createOscillator;"
            + "AudioContext.prototype.createOscillator = function () { window.tones++;"
            + " return made.call(this); }");
  }

  @AfterEach
  void close() throws IOException {
    if (browser != null) {
      browser.close();
    }
    program.close();
  }

  private String phase() {
    return browser.text(By.id("phase"));
  }

  private String verdict() {
    return browser.text(By.id("verdict"));
  }

  private void land(String name, double stops, double dark) throws IOException {
    studio.shoot(name, stops, dark);
    browser.await(name, () -> browser.text(By.id("look-file")).startsWith(name));
  }

  private long tones() {
    return (Long) browser.run("return window.tones");
  }

  @Test
  void aMisfireIsAnAlarmThatStandsUntilItIsNoted() throws Exception {
    land("F_01.JPG", 0, 0);
    browser.await("the reference", () -> verdict().equals("The reference"));
    assertEquals("Watching against F_01.JPG", phase());
    browser.named("heading", "Last frame, 1, the reference frame");
    browser.click(browser.named("checkbox", "Crushed pixels dotted"));
    browser.named("checkbox", "Sound at an alarm");
    land("F_02.JPG", 0.01, 0);
    browser.await("a fitting frame", () -> verdict().equals("As the reference"));
    assertEquals("", browser.text(By.id("missed-words")));
    assertEquals(0, tones());

    land("F_03.JPG", -1.6, 0);
    browser.await("the alarm", () -> verdict().equals("Alarm"));
    assertTrue(browser.textIn(AGAINST).contains("a flash may not have fired"));
    assertEquals("alert", browser.all("#missed-words").get(0).getAriaRole());
    assertTrue(
        browser.text(By.id("missed-words")).startsWith("Frame 3, F_03.JPG: The whole frame"));
    browser.await("three tones", () -> tones() == 3);
    browser.keep("tether-misfire");

    land("F_04.JPG", 0, 0.4);
    browser.await("the band", () -> browser.textIn(AGAINST).contains("dark band from the bottom"));
    browser.await(
        "both alarms", () -> browser.text(By.id("missed-words")).endsWith("1 alarm more."));
    land("F_05.JPG", 0, 0);
    browser.await("a fitting frame", () -> verdict().equals("As the reference"));
    assertTrue(browser.text(By.id("missed-words")).startsWith("Frame 4"), "it stands");

    browser.named("button", "Show frame 4").click();
    browser.named("heading", "Frame 4");
    browser.named("button", "All noted").click();
    browser.await("no alarm", () -> browser.text(By.id("missed-words")).isEmpty());
    browser.named("button", "To the last frame").click();
    browser.named("heading", "Last frame, 5");
    browser.open(address);
    browser.named("heading", "Last frame, 5");
    assertEquals("", browser.text(By.id("missed-words")), "what is noted stays noted");
  }

  @Test
  void aLightThatSinksIsToldBeforeAnyFrameIsOff() throws Exception {
    for (int i = 1; i <= 12; i++) {
      land("F_%02d.JPG".formatted(i), -0.011 * (i - 1), 0);
    }
    browser.await("the trend", () -> browser.textIn(AGAINST).contains("The light sinks by 0.01"));
    assertEquals("Warned", verdict());
    browser.click(browser.all("#offsets-table summary").get(0));
    browser.await("the table", () -> browser.all("#offsets-table-rows tr").size() == 11);
    browser.keep("tether-trend");
  }

  @Test
  void aPatchIsDraggedOverTheCardAndMeasuredFromThenOn() throws Exception {
    land("F_01.JPG", 0, 0);
    browser.await("the reference", () -> verdict().equals("The reference"));
    browser.named("button", "Mark a patch").click();
    browser.named("button", "Measure by this patch");
    browser.drag(
        browser.all("#sheet").get(0),
        StillLife.CARD_LEFT + 0.015,
        StillLife.CARD_TOP + 0.015,
        StillLife.CARD_RIGHT - 0.015,
        StillLife.CARD_LOWER - 0.015);
    // A drag from a whole pixel to another is right within a pixel of the picture that is seen.
    String drawn = browser.text(By.id("patch-told"));
    assertTrue(
        drawn.matches("4[34] % from the left, 4[12] % from the top, 10 % wide, 12 % high\\."),
        drawn);
    browser.keep("tether-patch");
    browser.named("button", "Measure by this patch").click();
    browser.await(
        "the journal",
        () -> journal().contains("\"type\":\"reference-marked\",\"file\":\"F_01.JPG\",\"patch\":"));
    land("F_02.JPG", -0.3, 0);
    browser.await("the alarm", () -> verdict().equals("Alarm"));
    assertTrue(browser.textIn(AGAINST).contains("The patch is 0.3"), browser.textIn(AGAINST));
    assertEquals(
        1, browser.all("#patch-found:not([hidden])").size(), "where it was found is shown");
  }

  @Test
  void aPatchIsMarkedByKeysAlone() throws Exception {
    land("F_01.JPG", 0, 0);
    browser.named("button", "Mark a patch").sendKeys(Keys.ENTER);
    browser.await("focus", () -> "patch".equals(browser.focused().getDomAttribute("id")));
    String before = browser.text(By.id("patch-told"));
    for (Keys key : List.of(Keys.ARROW_LEFT, Keys.ARROW_LEFT, Keys.ARROW_UP)) {
      browser.press(key);
    }
    browser.press(Keys.chord(Keys.SHIFT, Keys.ARROW_RIGHT));
    browser.await("the move", () -> !browser.text(By.id("patch-told")).equals(before));
    assertEquals(
        "42 % from the left, 41 % from the top, 13 % wide, 16 % high.",
        browser.text(By.id("patch-told")));
    browser.press(Keys.ENTER);
    browser.await("the journal", () -> journal().contains("\"patch\":{\"left\":0.42,\"top\":0.41"));
  }

  @Test
  void marksAreKeptInTheSessionAndFilterTheStrip() throws Exception {
    for (int i = 1; i <= 3; i++) {
      land("F_%02d.JPG".formatted(i), 0, 0);
    }
    browser.named("button", "Keep").click();
    browser.await(
        "it is kept",
        () -> "true".equals(browser.named("button", "Keep").getDomAttribute("aria-pressed")));
    browser.all("#reel").get(0).sendKeys(Keys.ARROW_LEFT);
    browser.named("heading", "Frame 2");
    browser.all("#reel").get(0).sendKeys("r");
    browser.await(
        "it is rejected",
        () -> "true".equals(browser.named("button", "Reject").getDomAttribute("aria-pressed")));
    browser.named("button", "Note").click();
    browser.named("dialog", "Frame 2, F_02.JPG");
    browser.press("eyes shut");
    browser.named("button", "Keep the note").click();
    browser.await("the note", () -> browser.text(By.id("note")).equals("Note: eyes shut"));
    browser.click(browser.named("radio", "Rejected"));
    browser.await("one of three", () -> browser.text(By.id("strip-told")).equals("1 of 3 frames"));
    assertEquals(1, browser.all("#reel .cell:not([hidden])").size());
    browser.keep("tether-marks");
    assertTrue(
        journal().contains("\"file\":\"F_02.JPG\",\"mark\":\"reject\",\"note\":\"eyes shut\""));
    browser.named("button", "Stop").click();
    browser.named("button", "End the session").click();
    assertEquals(0, program.exitCode());
    assertTrue(journal().contains("\"mark\":\"keep\""));
  }

  @Test
  void atAHundredPerCentEachPixelOfTheFrameIsSeen() throws Exception {
    studio.shootStripes("F_01.JPG");
    browser.await("the frame", () -> browser.text(By.id("look-file")).startsWith("F_01.JPG"));
    WebElement sheet = browser.all("#sheet").get(0);
    assertTrue(contrast(browser.look(sheet)) < 60, "the preview averages the stripes away");
    browser.run("document.getElementById('stage').focus()");
    browser.press("1");
    browser.await("the detail", () -> browser.all("#look-detail:not([hidden])").size() == 1);
    BufferedImage seen = browser.look(sheet);
    assertTrue(contrast(seen) > 130, "stripes of " + contrast(seen) + " codes");
    assertEquals(
        3600.0,
        ((Number) browser.run("return document.getElementById('film').clientWidth")).doubleValue(),
        2);
    // One and a half times of what is seen, cut around its middle.
    double wide = browser.all("#look-detail").get(0).getRect().getWidth();
    assertEquals(1.5 * sheet.getRect().getWidth(), wide, 3);
    browser.keep("tether-hundred-per-cent");
    browser.press("0");
    browser.await("all of it", () -> browser.all("#look-detail[hidden]").size() == 1);
    browser.drag(sheet, 0.5, 0.5, 0.7, 0.5);
    browser.run(WHEEL, sheet);
    browser.await("the wheel", () -> browser.all("#sheet[data-zoomed]").size() == 1);
  }

  private static final String WHEEL =
      "const b = arguments[0].getBoundingClientRect(); arguments[0].dispatchEvent(new WheelEvent("
          + "'wheel', {deltaY: -300, bubbles: true, cancelable: true, clientX: b.left + 9,"
          + " clientY: b.top + 9}))";

  /** Between the darkest and the brightest pixel of a row through the middle. */
  private static int contrast(BufferedImage seen) {
    int low = 255;
    int high = 0;
    for (int x = seen.getWidth() / 3; x < seen.getWidth() / 2; x++) {
      int green = seen.getRGB(x, seen.getHeight() / 2) >> 8 & 0xff;
      low = Math.min(low, green);
      high = Math.max(high, green);
    }
    return high - low;
  }

  @Test
  void aFrameIsComparedWithTheReferenceBesideItAndInTurn() throws Exception {
    land("F_01.JPG", 0, 0);
    land("F_02.JPG", -0.1, 0);
    browser.click(browser.named("radio", "Beside the reference"));
    browser.named("image", "The reference frame");
    browser.keep("tether-beside");
    browser.click(browser.named("radio", "In turn with it"));
    browser.await("the reference", () -> browser.text(By.id("sheet-word")).equals("Reference"));
    browser.await("the frame", () -> browser.text(By.id("sheet-word")).equals("Frame 2"));
    browser.prefer("prefers-reduced-motion", "reduce");
    browser.await("stillness", () -> browser.text(By.id("sheet-word")).equals("Frame 2"));
    browser.named("button", "Swap").click();
    browser.await("a swap by hand", () -> browser.text(By.id("sheet-word")).equals("Reference"));
    browser.click(browser.named("radio", "Alone"));
    browser.await("it alone", () -> browser.all("#sheet-word[hidden]").size() == 1);
    browser.named("button", "Full screen").click();
    browser.named("button", "Leave full screen").click();
    browser.named("button", "Full screen");
  }

  @Test
  void aCutNetworkIsToldAndComesBackWithoutGapOrRepeat() throws Exception {
    land("F_01.JPG", 0, 0);
    browser.offline(true);
    browser.await(
        "the alarm", () -> browser.text(By.id("alarms")).contains("The program does not answer"));
    assertTrue(browser.text(By.id("progress")).contains("not connected"));
    studio.shoot("F_02.JPG", -1.6, 0);
    program.await(line -> line.contains("ALARM: The whole frame"));
    assertFalse(browser.text(By.id("look-file")).startsWith("F_02"));
    browser.keep("tether-cut");
    browser.offline(false);
    browser.await("the frame", () -> browser.text(By.id("look-file")).startsWith("F_02.JPG"));
    browser.await("no alarm", () -> browser.text(By.id("alarms")).isEmpty());
    assertTrue(browser.text(By.id("missed-words")).startsWith("Frame 2"));
    assertEquals("2 frames", browser.text(By.id("strip-told")));
  }

  private String journal() {
    try {
      return Files.readString(
          Files.list(directory.resolve("sessions"))
              .findFirst()
              .orElseThrow()
              .resolve("journal.jsonl"));
    } catch (IOException unreadable) {
      throw new AssertionError(unreadable);
    }
  }

  @Test
  void itAsksNothingOfAnyOtherAddress() throws Exception {
    land("F_01.JPG", 0, 0);
    land("F_02.JPG", -1.6, 0);
    browser.await("the strip", () -> browser.all("#reel img[src]").size() == 2);
    assertEquals(List.of(), ForeignRequests.in(browser.network()));
    assertEquals(List.of(), browser.complaints());
  }
}
