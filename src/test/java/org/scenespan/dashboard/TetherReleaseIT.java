package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.scenespan.jar.Program;

/**
 * A release from a tablet: the packaged program, another one that is the trigger and the camera at
 * the far end of a pseudo-terminal, and a real browser.
 */
@Tag("browser")
@Timeout(120)
@DisabledOnOs(value = OS.WINDOWS, disabledReason = "Windows has no pseudo-terminals")
class TetherReleaseIT {
  @TempDir private Path directory;

  @Test
  void anOperatorReleasesFromTheTablet() throws Exception {
    Files.createDirectory(directory.resolve("frames"));
    try (Program device =
        Program.start(
            directory,
            "devices",
            "emulate",
            "--folder",
            "frames",
            "--simulate",
            "window",
            "--for",
            "100s")) {
      String port = device.await(line -> line.startsWith("Port: ")).substring("Port: ".length());
      try (Program tether =
              Program.start(
                  directory,
                  "tether",
                  "--folder",
                  "frames",
                  "--first-is-reference",
                  "--trigger",
                  "reference-trigger",
                  "--port",
                  port,
                  "--dashboard",
                  "--sessions",
                  "sessions");
          Browser tablet = new Browser(directory.resolve("profile"))) {
        String page =
            tether.await(line -> line.startsWith("Dashboard: ")).substring("Dashboard: ".length());
        tether.await(line -> line.startsWith("Trigger: "));
        tablet.resize(1280, 800);
        tablet.open(page);
        released(tablet);
        takenBack(tablet);
        device.kill();
        refused(tablet);
      }
    }
  }

  private void released(Browser tablet) throws IOException {
    tablet.named("group", "Release");
    tablet.named("checkbox", "Sound at an alarm and a count-down, once this page is touched");
    tablet.click(tablet.named("radio", "5 s"));
    tablet.named("button", "Release").click();
    tablet.await(
        "the count-down", () -> tablet.text(By.id("count-words")).equals("Release in 5 seconds"));
    tablet.await("it counts", () -> tablet.text(By.id("count-number")).equals("3"));
    tablet.keep("tether-count-down");
    assertEquals(0, count("shot-commanded"));
    tablet.await("the frame", () -> tablet.text(By.id("look-file")).startsWith("SCN_0001.JPG"));
    tablet.await("it is credited", () -> count("release-answered") == 1);
    tablet.named("button", "Release");
    assertEquals("Watching against SCN_0001.JPG", tablet.text(By.id("phase")));
    tablet.keep("tether-released");
  }

  private void takenBack(Browser tablet) {
    tablet.click(tablet.named("radio", "10 s"));
    tablet.named("button", "Release").click();
    tablet.named("button", "Take it back").click();
    tablet.await("it is gone", () -> tablet.all("#count[hidden]").size() == 1);
    tablet.named("button", "Release");
    assertEquals(1, count("release-withdrawn"));
    tablet.click(tablet.named("radio", "At once"));
    tablet.named("button", "Release").click();
    tablet.await("the next", () -> tablet.text(By.id("look-file")).startsWith("SCN_0002.JPG"));
    tablet.await("it is credited", () -> count("release-answered") == 2);
    assertEquals(2, count("shot-commanded"), "none for the one that was taken back");
  }

  private void refused(Browser tablet) throws IOException {
    tablet.await("the loss", () -> tablet.text(By.id("alarms")).contains("The trigger is lost:"));
    tablet.named("button", "Release").click();
    tablet.await(
        "why not",
        () ->
            tablet
                .text(By.id("alarms"))
                .contains(
                    "There is no release: the trigger is lost; it is being asked for again."));
    tablet.keep("tether-trigger-lost");
    assertEquals("Watching against SCN_0001.JPG", tablet.text(By.id("phase")));
    tablet.resize(800, 1280);
    tablet.keep("tether-release-upright");
    tablet.resize(390, 844);
    tablet.keep("tether-release-phone");
    assertTrue(
        (Long) tablet.run("return document.documentElement.scrollWidth") <= 390,
        "nothing stands out sideways");
    assertEquals(List.of(), tablet.stumblingBlocksInEveryTheme());
  }

  private long count(String type) {
    try (var sessions = Files.list(directory.resolve("sessions"))) {
      String journal =
          Files.readString(sessions.findFirst().orElseThrow().resolve("journal.jsonl"));
      return Pattern.compile("\"type\":\"" + type + "\"").matcher(journal).results().count();
    } catch (IOException unreadable) {
      throw new AssertionError(unreadable);
    }
  }
}
