package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.scenespan.jar.Program;

/**
 * A tether on a tablet: the packaged program, frames landing in a real folder, a real browser. One
 * program and one browser serve all cases; each case lights the set anew, with frames and a
 * reference frame of its own.
 */
@Tag("browser")
@Timeout(120)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class TetherPageIT {
  private static final String AGAINST = "Against the reference frame";

  @TempDir private static Path directory;
  private static StillLife studio;
  private static Program program;
  private static Browser browser;
  private static String address;

  /** How many cases there were, which a case's files are named after, and how many frames. */
  private static int cases;

  private static int landed;

  /** The frames that landed before this case. */
  private int before;

  @BeforeAll
  static void begin() throws IOException {
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
    browser.open(address);
    browser.await("the phase", () -> phase().equals("Waiting for the first frame"));
  }

  @AfterAll
  static void end() throws IOException {
    if (browser != null) {
      browser.close();
    }
    if (program != null) {
      program.close();
    }
  }

  /** Nothing is left of the case before: its alarms are noted, and the page is opened again. */
  @BeforeEach
  void open() {
    cases++;
    before = landed;
    browser.prefer("prefers-reduced-motion", "no-preference");
    if (!browser.text(By.id("missed-words")).isEmpty()) {
      browser.all("#missed-noted").get(0).click();
    }
    browser.network();
    browser.complaints();
    browser.open(address);
    browser.await("the frames", () -> landed == 0 || frames().startsWith(landed + " frame"));
    // How often it sounded: the browser under test has no loudspeaker.
    browser.run(
        "window.tones = 0; const made = AudioContext.prototype.createOscillator;"
            + "AudioContext.prototype.createOscillator = function () { window.tones++;"
            + " return made.call(this); }");
  }

  /** The name of a frame of this case. */
  private static String frame(int number) {
    return "%c_%02d.JPG".formatted('E' + cases, number);
  }

  private static String frames() {
    return browser.text(By.id("strip-told"));
  }

  private static String phase() {
    return browser.text(By.id("phase"));
  }

  private String verdict() {
    return browser.text(By.id("verdict"));
  }

  /** One press of the release; waits until the page has the frame. */
  private void land(int number, double stops, double dark) throws IOException {
    press(number, stops, dark);
    browser.await(frame(number), () -> browser.text(By.id("look-file")).startsWith(frame(number)));
  }

  private void press(int number, double stops, double dark) throws IOException {
    studio.shoot(frame(number), stops, dark);
    landed++;
  }

  /** The first frame of the case, and the reference frame from then on. */
  private void light() throws IOException {
    boolean first = landed == 0;
    land(1, 0, 0);
    if (!first) {
      assertEquals(202L, browser.run(REFERENCE, frame(1)));
    }
    browser.await("the reference", () -> phase().equals("Watching against " + frame(1)));
    browser.await("its verdict", () -> verdict().equals("The reference"));
  }

  private static final String REFERENCE =
      "const asked = new XMLHttpRequest(); asked.open('POST', 'api/reference', false);"
          + "asked.setRequestHeader('Content-Type', 'application/json');"
          + "asked.setRequestHeader('X-Scenespan', '1');"
          + "asked.send(JSON.stringify({file: arguments[0]})); return asked.status";

  private long tones() {
    return (Long) browser.run("return window.tones");
  }

  @Test
  void aMisfireIsAnAlarmThatStandsUntilItIsNoted() throws Exception {
    light();
    browser.named("heading", "Last frame, " + (before + 1) + ", the reference frame");
    browser.click(browser.named("checkbox", "Crushed pixels dotted"));
    browser.named("checkbox", "Sound at an alarm");
    land(2, 0.01, 0);
    browser.await("a fitting frame", () -> verdict().equals("As the reference"));
    assertEquals("", browser.text(By.id("missed-words")));
    assertEquals(0, tones());

    land(3, -1.6, 0);
    browser.await("the alarm", () -> verdict().equals("Alarm"));
    assertTrue(browser.textIn(AGAINST).contains("a flash may not have fired"));
    assertEquals("alert", browser.all("#missed-words").get(0).getAriaRole());
    assertTrue(
        browser
            .text(By.id("missed-words"))
            .startsWith("Frame " + (before + 3) + ", " + frame(3) + ": The whole frame"));
    browser.await("three tones", () -> tones() == 3);
    browser.keep("tether-misfire");

    land(4, 0, 0.4);
    browser.await("the band", () -> browser.textIn(AGAINST).contains("dark band from the bottom"));
    browser.await(
        "both alarms", () -> browser.text(By.id("missed-words")).endsWith("1 alarm more."));
    land(5, 0, 0);
    browser.await("a fitting frame", () -> verdict().equals("As the reference"));
    String fourth = "rame " + (before + 4);
    assertTrue(browser.text(By.id("missed-words")).startsWith("F" + fourth), "it stands");

    browser.named("button", "Show f" + fourth).click();
    browser.named("heading", "F" + fourth);
    browser.named("button", "All noted").click();
    browser.await("no alarm", () -> browser.text(By.id("missed-words")).isEmpty());
    browser.named("button", "To the last frame").click();
    browser.named("heading", "Last frame, " + (before + 5));
    browser.open(address);
    browser.named("heading", "Last frame, " + (before + 5));
    assertEquals("", browser.text(By.id("missed-words")), "what is noted stays noted");
  }

  @Test
  void aLightThatSinksIsToldBeforeAnyFrameIsOff() throws Exception {
    light();
    for (int i = 2; i <= 12; i++) {
      press(i, -0.011 * (i - 1), 0);
    }
    browser.await("the last", () -> browser.text(By.id("look-file")).startsWith(frame(12)));
    browser.await("the trend", () -> browser.textIn(AGAINST).contains("The light sinks by 0.01"));
    assertEquals("Warned", verdict());
    browser.click(browser.all("#offsets-table summary").get(0));
    browser.await("the table", () -> browser.all("#offsets-table-rows tr").size() == 11);
    browser.keep("tether-trend");
  }

  @Test
  void aPatchIsDraggedOverTheCardAndMeasuredFromThenOn() throws Exception {
    light();
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
        () ->
            journal()
                .contains(
                    "\"type\":\"reference-marked\",\"file\":\"" + frame(1) + "\",\"patch\":"));
    land(2, -0.3, 0);
    browser.await("the alarm", () -> verdict().equals("Alarm"));
    assertTrue(browser.textIn(AGAINST).contains("The patch is 0.3"), browser.textIn(AGAINST));
    assertEquals(
        1, browser.all("#patch-found:not([hidden])").size(), "where it was found is shown");
  }

  @Test
  void aPatchIsMarkedByKeysAlone() throws Exception {
    light();
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
  @Order(Integer.MAX_VALUE)
  void marksAreKeptInTheSessionAndFilterTheStrip() throws Exception {
    light();
    land(2, 0, 0);
    land(3, 0, 0);
    browser.named("button", "Keep").click();
    browser.await(
        "it is kept",
        () -> "true".equals(browser.named("button", "Keep").getDomAttribute("aria-pressed")));
    browser.all("#reel").get(0).sendKeys(Keys.ARROW_LEFT);
    browser.named("heading", "Frame " + (before + 2));
    browser.all("#reel").get(0).sendKeys("r");
    browser.await(
        "it is rejected",
        () -> "true".equals(browser.named("button", "Reject").getDomAttribute("aria-pressed")));
    browser.named("button", "Note").click();
    browser.named("dialog", "Frame " + (before + 2) + ", " + frame(2));
    browser.press("eyes shut");
    browser.named("button", "Keep the note").click();
    browser.await("the note", () -> browser.text(By.id("note")).equals("Note: eyes shut"));
    browser.click(browser.named("radio", "Rejected"));
    browser.await("one of all", () -> frames().equals("1 of " + landed + " frames"));
    assertEquals(1, browser.all("#reel .cell:not([hidden])").size());
    browser.keep("tether-marks");
    assertTrue(
        journal()
            .contains("\"file\":\"" + frame(2) + "\",\"mark\":\"reject\",\"note\":\"eyes shut\""));
    browser.named("button", "Stop").click();
    browser.named("button", "End the session").click();
    assertEquals(0, program.exitCode());
    assertTrue(journal().contains("\"mark\":\"keep\""));
  }

  @Test
  void atAHundredPerCentEachPixelOfTheFrameIsSeen() throws Exception {
    studio.shootStripes(frame(1));
    landed++;
    browser.await("the frame", () -> browser.text(By.id("look-file")).startsWith(frame(1)));
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
    light();
    land(2, -0.1, 0);
    String second = "Frame " + (before + 2);
    browser.click(browser.named("radio", "Beside the reference"));
    browser.named("image", "The reference frame");
    browser.keep("tether-beside");
    browser.click(browser.named("radio", "In turn with it"));
    browser.await("the reference", () -> browser.text(By.id("sheet-word")).equals("Reference"));
    browser.await("the frame", () -> browser.text(By.id("sheet-word")).equals(second));
    browser.prefer("prefers-reduced-motion", "reduce");
    browser.await("stillness", () -> browser.text(By.id("sheet-word")).equals(second));
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
    light();
    browser.offline(true);
    browser.await(
        "the alarm", () -> browser.text(By.id("alarms")).contains("The program does not answer"));
    assertTrue(browser.text(By.id("progress")).contains("not connected"));
    press(2, -1.6, 0);
    program.await(line -> line.contains(", " + frame(2)));
    program.await(line -> line.contains("ALARM: The whole frame"));
    assertFalse(browser.text(By.id("look-file")).startsWith(frame(2)));
    browser.keep("tether-cut");
    browser.offline(false);
    browser.await("the frame", () -> browser.text(By.id("look-file")).startsWith(frame(2)));
    browser.await("no alarm", () -> browser.text(By.id("alarms")).isEmpty());
    assertTrue(browser.text(By.id("missed-words")).startsWith("Frame " + (before + 2)));
    assertEquals((before + 2) + " frames", frames());
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
    light();
    land(2, -1.6, 0);
    browser.await("the strip", () -> browser.all("#reel img[src]").size() >= 2);
    assertEquals(List.of(), ForeignRequests.in(browser.network()));
    assertEquals(List.of(), browser.complaints());
  }
}
