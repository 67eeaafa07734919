package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.scenespan.session.Event;
import org.scenespan.session.Mark;

/**
 * A lapse's page in a real browser: what it tells, its sizes and themes, and ten thousand frames.
 */
@Tag("browser")
@Timeout(120)
class LapseLooksIT {
  private static final int[][] SIZES = {
    {1280, 800}, {800, 1280}, {390, 844}, {844, 390}, {1440, 900}
  };
  private static final List<String> THEMES = List.of("Day", "Dark", "Night");

  @TempDir static Path profile;
  private static Browser browser;
  private static byte[] preview;
  private static byte[] mask;
  private final List<String> asked = new CopyOnWriteArrayList<>();
  private SampleLapse lapse;
  private Dashboard dashboard;

  @BeforeAll
  static void begin() throws IOException {
    browser = new Browser(profile);
    preview = SampleTether.picture("preview").orElseThrow();
    mask = SampleTether.picture("mask-").orElseThrow();
  }

  @AfterAll
  static void end() {
    if (browser != null) {
      browser.close();
    }
  }

  @BeforeEach
  void open() throws IOException {
    serve(new SampleLapse(420, Duration.ofSeconds(20)));
    lapse.take(198);
    lapse.shoot();
    lapse.lose();
    lapse.record(
        new Event.AlarmRaised(
            "blind",
            "No frame has come of the last 3 shots: the exposures follow the forecast.",
            Optional.empty()));
    lapse.take(2);
    lapse.record(new Event.AlarmEnded("blind", "Frames arrive again."));
  }

  private void serve(SampleLapse sample) throws IOException {
    lapse = sample;
    dashboard =
        new Dashboard(
            0,
            lapse,
            new OpenDashboard.AskedActs(asked),
            name -> Optional.of(name.startsWith("mask-") ? mask : preview));
    browser.resize(1280, 800);
    browser.prefer("prefers-color-scheme", "light");
    browser.open(dashboard.address());
    browser.run("localStorage.clear()");
    browser.complaints();
    browser.network();
  }

  @AfterEach
  void close() {
    dashboard.close();
  }

  private void look() {
    browser.open(dashboard.address());
    browser.named("heading", "Exposure of frame 201");
    browser.await(
        "what is to come", () -> browser.textIn("Exposure of frame 201").contains("The sun"));
    browser.await(
        "the picture",
        () ->
            Boolean.TRUE.equals(
                browser.run("return document.getElementById('preview').naturalWidth > 0")));
  }

  @Test
  void tellsHowItStandsAndWhatComes() throws IOException {
    look();
    String vigil = browser.textIn("Exposure of frame 201");
    assertTrue(vigil.contains("200 of 420 frames, 1 lost"), vigil);
    assertTrue(vigil.contains("Next frame in"), vigil);
    assertTrue(vigil.matches("(?s).*Next change\\s+1/\\S+ s {2}ISO 100 in about .*"), vigil);
    assertTrue(vigil.contains("civil twilight"), vigil);
    assertTrue(
        browser.textIn("Light and exposure over time").contains("The light has risen from EV"));
    assertTrue(browser.textIn("Before you walk away").contains("optical finder"));
    assertTrue(browser.text(By.id("missed-words")).contains("No frame has come"));
    browser.named("button", "Noted").click();
    browser.await("the alarm is noted", () -> !browser.has("button", "Noted"));
    assertTrue(
        browser.textIn("Exposure of frame 201").contains("Over at"), "it is still in the list");

    lapse.take(1);
    browser.named("heading", "Exposure of frame 202");
    lapse.record(
        new Event.AlarmRaised(
            "dew", "The pictures lose contrast: look for dew.", Optional.empty()));
    browser.await("the next alarm", () -> browser.text(By.id("missed-words")).contains("dew"));
    browser.named("button", "Stop").click();
    browser.named("button", "End the session").click();
    browser.await("the wish", () -> asked.contains("stop"));
    lapse.end();
    browser.named("heading", "Result");
    browser.await("the report", () -> browser.textIn("Result").contains("0.0041 stop"));
    assertTrue(browser.textIn("Result").contains("scenespan sessions export dawn --to evening"));
    assertEquals(List.of(), browser.complaints());
    assertEquals(List.of(), ForeignRequests.in(browser.network()));
  }

  @Test
  void framesAreGoneAlongLookedIntoAndMarked() {
    look();
    browser.run("document.getElementById('roll-reel').focus()");
    browser.press(Keys.ARROW_LEFT);
    browser.named("heading", "Frame 200");
    assertTrue(browser.text(By.id("frame-caption")).startsWith("Frame 200, S_00200.JPG"));
    browser.press("k");
    browser.await("the wish", () -> asked.contains("mark S_00200.JPG keep "));
    lapse.record(new Event.FrameMarked("S_00200.JPG", Mark.KEEP, "the first light"));
    browser.await(
        "the mark", () -> browser.text(By.id("frame-told")).equals("Note: the first light"));
    assertEquals("true", browser.named("button", "Keep").getDomAttribute("aria-pressed"));
    assertTrue(
        browser
            .all("#roll-reel .cell[aria-selected=true]")
            .get(0)
            .getAccessibleName()
            .contains("kept, note: the first light"));
    lapse.take(1);
    browser.await("the next frame", () -> !browser.all("#roll-reel [id=roll-202]").isEmpty());
    assertTrue(browser.has("heading", "Frame 200"), "what is looked at stays");

    browser.run("document.getElementById('frame-stage').focus()");
    browser.press("1");
    browser.await(
        "the part at full size",
        () -> !browser.all("#preview-detail[src*='frames/S_00200.JPG']").isEmpty());
    browser.press("0");
    browser.await("all of it", () -> browser.all("#picture[data-zoomed]").isEmpty());
    browser.named("button", "To the last frame").click();
    browser.named("heading", "Last frame");
    assertTrue(browser.text(By.id("frame-light-caption")).contains("saturation at 0"));
  }

  @Test
  void fitsAndLooksTheSameInEveryTheme() throws IOException {
    for (int[] size : SIZES) {
      browser.resize(size[0], size[1]);
      look();
      for (String theme : THEMES) {
        browser.named("radio", theme).click();
        assertEquals(
            (long) size[0],
            browser.run("return document.documentElement.scrollWidth"),
            "nothing stands out sideways");
        assertEquals(
            List.of(),
            browser.run(
                "return [...document.querySelectorAll('#desk button, #desk label, #desk summary,"
                    + " .foot button')].filter(e => e.checkVisibility())"
                    + ".map(e => [e.textContent.trim(), e.getBoundingClientRect().height])"
                    + ".filter(([, h]) => h < 47.5).map(String)"),
            "everything that is touched is 48 px high");
        browser.keep("lapse-" + size[0] + "x" + size[1] + "-" + theme.toLowerCase(Locale.ROOT));
      }
    }
  }

  @Test
  void nobodyStumbles() {
    look();
    browser.click(browser.all("#course-table summary").get(0));
    browser.await("the table", () -> browser.all("#course-rows tr").size() == 12);
    for (String theme : THEMES) {
      browser.named("radio", theme).click();
      assertEquals(List.of(), browser.stumblingBlocks(), theme);
    }
    browser.run("document.querySelector('#course-spans input').focus()");
    browser.press(Keys.ARROW_RIGHT);
    browser.await(
        "the near view",
        () -> Boolean.TRUE.equals(browser.run("return document.activeElement.value === 'near'")));
    lapse.end();
    browser.named("heading", "Result");
    assertEquals(List.of(), browser.stumblingBlocks(), "at the end");
  }

  @Test
  void nightSendsNoLightButRed() {
    look();
    browser.named("radio", "Night").click();
    assertEquals(
        List.of(),
        browser.notRedAlone("#missed", "#vigil", "#course", "#frame", "#cautions", ".foot"));
  }

  /**
   * How long that takes is measured in the benchmark; here it is held that little is in the page.
   */
  @Test
  void tenThousandFramesAreOpenedInShort() throws IOException {
    dashboard.close();
    SampleLapse longOne = new SampleLapse(12_000, Duration.ofSeconds(2));
    longOne.takeQuickly(9_980);
    longOne.take(20);
    serve(longOne);
    browser.open(dashboard.address());
    browser.named("heading", "Exposure of frame 10000");
    browser.await("the course", () -> !browser.all("#course-light[d^=M]").isEmpty());
    long points =
        ((String) browser.run("return document.getElementById('course-light').getAttribute('d')"))
            .chars()
            .filter(c -> c == 'L')
            .count();
    assertTrue(points > 200 && points < 2_000, points + " points are drawn");
    long elements = (Long) browser.run("return document.querySelectorAll('*').length");
    assertTrue(elements < 1_500, elements + " elements");
  }
}
