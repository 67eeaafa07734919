package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
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
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.scenespan.session.Mark;

/** A tether's page in a real browser: sizes, themes, and two thousand frames. */
@Tag("browser")
@Timeout(120)
class TetherLooksIT {
  private static final int MANY = 2_000;

  @TempDir static Path profile;
  private static Browser browser;
  private final GrowingRecords records = new GrowingRecords();
  private SampleTether tether;
  private Dashboard dashboard;

  @BeforeAll
  static void begin() throws IOException {
    browser = new Browser(profile);
  }

  @AfterAll
  static void end() {
    if (browser != null) {
      browser.close();
    }
  }

  @BeforeEach
  void open() throws IOException {
    tether = new SampleTether(records);
    dashboard = new Dashboard(0, records, tether, SampleTether::picture);
    browser.resize(1280, 800);
    browser.prefer("prefers-color-scheme", "light");
    browser.open(dashboard.address());
    browser.run("localStorage.clear()");
  }

  @AfterEach
  void close() {
    dashboard.close();
  }

  private void landSome() {
    double[] stops = {0, 0.01, -0.03, 0.04, 0.13, 0.02, -0.26, 0.05, 0.06};
    for (double each : stops) {
      tether.land(each);
    }
    tether.mark("F_0002.JPG", Mark.KEEP, "smile");
    tether.mark("F_0003.JPG", Mark.REJECT, "");
  }

  @ParameterizedTest
  @CsvSource({"1280, 800", "800, 1280", "390, 844", "844, 390", "320, 640"})
  void fitsAndLooksTheSameInEveryTheme(int width, int height) throws IOException {
    landSome();
    browser.resize(width, height);
    browser.named("heading", "Last frame, 9");
    for (String theme : List.of("Day", "Dark", "Night")) {
      browser.named("radio", theme).click();
      browser.await(
          "the pictures",
          () ->
              Boolean.TRUE.equals(
                  browser.run(
                      "return document.getElementById('look-image').naturalWidth > 0"
                          + " && [...document.querySelectorAll('#reel .cell:not([hidden]) img')]"
                          + ".some(e => e.naturalWidth > 0)")));
      assertEquals(
          (long) width,
          browser.run("return document.documentElement.scrollWidth"),
          "nothing stands out sideways");
      assertEquals(
          List.of(),
          browser.run(
              "return [...document.querySelectorAll('#studio button, #studio label,"
                  + " #studio summary, #studio input[type=text], .foot button')]"
                  + ".filter(e => e.checkVisibility()).map(e => [e.textContent.trim(),"
                  + " e.getBoundingClientRect()]).filter(([, b]) => b.height < 47.5 && b.width > 0)"
                  + ".filter(([t]) => t !== 'Frame').map(([t, b]) => t + ' ' + b.height)"),
          "everything that is touched is 48 px high");
      browser.keep("tether-" + width + "x" + height + "-" + theme.toLowerCase(Locale.ROOT));
    }
  }

  @Test
  void nightSendsNoLightButRed() {
    landSome();
    browser.named("radio", "Night").click();
    browser.named("heading", "Last frame, 9");
    browser.click(browser.named("checkbox", "Clipped pixels hatched"));
    browser.await("the strip", () -> !browser.all("#reel .cell:not([hidden]) img[src]").isEmpty());
    assertEquals(List.of(), browser.notRedAlone(".missed", "#look", "#against", "#strip", ".foot"));
  }

  @Test
  void nobodyStumbles() {
    landSome();
    browser.named("heading", "Last frame, 9");
    browser.click(browser.all("#offsets-table summary").get(0));
    assertEquals(List.of(), browser.stumblingBlocksInEveryTheme());
    browser.named("button", "Mark a patch").click();
    browser.named("button", "Measure by this patch");
    assertEquals(List.of(), browser.stumblingBlocksInEveryTheme());
    browser.named("button", "Leave it as it was").click();
    browser.named("button", "Note").click();
    browser.named("dialog", "Frame 9, F_0009.JPG");
    assertEquals(List.of(), browser.stumblingBlocksInEveryTheme());
  }

  /** How smoothly is told by the bench: here, that the page never holds more than is seen. */
  @Test
  void ofTwoThousandFramesOnlyWhatIsSeenIsInThePage() {
    for (int i = 0; i < MANY; i++) {
      tether.land(i % 97 == 50 ? -1.6 : 0.09 * Math.sin(i / 7.0));
    }
    // A headless browser opens its sound device at the first key, which takes as long as it takes.
    browser.run("localStorage.setItem('scenespan-sound', 'off')");
    browser.open(dashboard.address());
    browser.await("all frames", () -> told().equals("2000 frames"));
    browser.named("heading", "Last frame, 2000");
    onlyWhatIsSeen();
    WebElement reel = browser.all("#reel").get(0);
    for (Keys key : List.of(Keys.HOME, Keys.PAGE_DOWN, Keys.ARROW_RIGHT, Keys.END)) {
      reel.sendKeys(key);
      onlyWhatIsSeen();
    }
    for (int at : List.of(0, 9_000, 90_000, 180_000)) {
      browser.run("arguments[0].scrollLeft = arguments[1]", reel, at);
      browser.await(
          "a frame in the middle of what is seen",
          () ->
              Boolean.TRUE.equals(
                  browser.run(
                      "const b = arguments[0].getBoundingClientRect(); return document"
                          + ".elementFromPoint(b.left + b.width / 2, b.top + b.height / 2)"
                          + "?.closest('.cell') !== null",
                      reel)));
      onlyWhatIsSeen();
    }
    browser.named("radio", "Alarmed").click();
    browser.await("the alarmed ones", () -> told().equals("21 of 2000 frames"));
    onlyWhatIsSeen();
    browser.named("radio", "Kept").click();
    browser.await("none", () -> told().equals("0 of 2000 frames"));
    browser.named("radio", "All").click();
    browser.await("all again", () -> told().equals("2000 frames"));
    onlyWhatIsSeen();
  }

  private static String told() {
    return browser.text(By.id("strip-told"));
  }

  private static void onlyWhatIsSeen() {
    long cells = browser.all("#reel .cell").size();
    assertTrue(cells < 40, cells + " frames are in the page");
    long elements = (Long) browser.run("return document.querySelectorAll('*').length");
    assertTrue(elements < 1_500, elements + " elements");
  }
}
