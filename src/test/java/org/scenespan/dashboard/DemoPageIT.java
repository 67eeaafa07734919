package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.scenespan.jar.Program;

/** What a newcomer does first: the packaged demo, seen in a real browser until it has covered. */
@Tag("browser")
@Timeout(120)
class DemoPageIT {
  @TempDir private Path directory;

  @Test
  void theDemoCoversItsSceneBeforeTheNewcomersEyes() throws Exception {
    try (Program demo = Program.start(directory, "demo", "--sessions", "sessions");
        Browser browser = new Browser(directory.resolve("profile"))) {
      String address =
          demo.await(line -> line.startsWith("Dashboard: ")).substring("Dashboard: ".length());
      browser.resize(1280, 900);
      browser.open(address);
      browser.await(
          "a plan", () -> browser.text(By.id("next-settles")).startsWith("It is expected"));
      browser.await(
          "what is left", () -> browser.text(By.id("next-left")).contains("to go, about"));
      browser.keep("demo-planning");
      browser.await(
          "the end", () -> browser.text(By.id("phase")).matches("Covered with \\d frames"));
      String cover = browser.textIn("The scene and its cover");
      assertTrue(cover.contains("frames hold all of it"), cover);
      browser.named("heading", "Last frame");
      browser.await("the last frame's preview", () -> browser.has("image", lastPreview(browser)));
      browser.keep("demo-day");
      browser.named("radio", "Night").sendKeys(" ");
      browser.keep("demo-night");
      browser.run("document.getElementById('coverage').scrollIntoView()");
      browser.keep("demo-coverage-night");
      browser.named("radio", "Day").sendKeys(" ");
      browser.keep("demo-coverage-day");
      assertEquals(
          0L,
          browser.run(
              "const [a, b] = [...document.querySelectorAll('.cover summary')]"
                  + ".map(e => e.getBoundingClientRect());"
                  + "return a.bottom <= b.top || b.bottom <= a.top ? 0 : 1"),
          "no summary lies on another");
      assertEquals(List.of(), browser.complaints());
      demo.await(line -> line.startsWith("The page stays open"));
      assertEquals(130, demo.interrupt());
    }
  }

  private static String lastPreview(Browser browser) {
    Object name = browser.run("return document.getElementById('preview').alt");
    return String.valueOf(name);
  }
}
