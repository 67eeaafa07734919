package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.net.InetAddress;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;

/**
 * Three browsers look at one tether, from 127.0.0.2, from where every caller is another machine.
 */
@Tag("browser")
@Timeout(180)
class TetherViewersIT {
  @TempDir private Path directory;

  @Test
  void twoViewersLookOnWhileTheOperatorActs() throws Exception {
    Random chance = new Random(31);
    Pairing pairing =
        new Pairing(
            () -> Instant.parse("2026-05-04T03:00:00Z"),
            () -> {
              byte[] bytes = new byte[32];
              chance.nextBytes(bytes);
              return bytes;
            });
    GrowingRecords records = new GrowingRecords();
    SampleTether tether = new SampleTether(records, "release-only");
    tether.land(0);
    try (Dashboard dashboard =
            new Dashboard(
                0,
                records,
                tether,
                SampleTether::picture,
                new Dashboard.Reach(
                    InetAddress.getByAddress(new byte[] {127, 0, 0, 2}),
                    pairing,
                    (ours, theirs) -> false,
                    Duration.ofSeconds(10)));
        Browser operator = new Browser(directory.resolve("operator"));
        Browser first = new Browser(directory.resolve("first"));
        Browser second = new Browser(directory.resolve("second"))) {
      operator.resize(1280, 800);
      first.resize(800, 1280);
      second.resize(390, 844);
      operator.open(dashboard.address() + "#" + pairing.operatorCode());
      first.open(dashboard.address() + "#" + pairing.viewerCode());
      second.open(dashboard.address() + "#" + pairing.viewerCode());
      for (Browser browser : List.of(operator, first, second)) {
        browser.named("heading", "Last frame, 1, the reference frame");
      }
      tether.land(0.02);
      for (Browser viewer : List.of(first, second)) {
        viewer.named("heading", "Last frame, 2");
        assertFalse(viewer.has("button", "Keep"));
        assertFalse(viewer.has("button", "Mark a patch"));
        assertFalse(viewer.has("button", "Stop"));
        assertFalse(viewer.has("button", "Release"));
        for (String act :
            List.of("api/mark", "api/reference", "api/stop", "api/release", "api/withdraw")) {
          assertEquals(403L, viewer.run(POST, act), act);
        }
      }
      operator.named("button", "Keep").click();
      for (Browser viewer : List.of(first, second)) {
        viewer.await("the mark", () -> viewer.text(By.id("reel")).contains("kept"));
        viewer.click(viewer.named("radio", "Kept"));
        viewer.await("the filter", () -> viewer.text(By.id("strip-told")).equals("1 of 2 frames"));
      }
      operator.click(operator.named("radio", "10 s"));
      operator.named("button", "Release").click();
      for (Browser viewer : List.of(first, second)) {
        viewer.await(
            "the count-down",
            () -> viewer.text(By.id("count-words")).equals("Release in 10 seconds"));
        assertFalse(viewer.has("button", "Take it back"));
      }
      first.keep("tether-count-down-viewer");
      operator.named("button", "Take it back").click();
      for (Browser browser : List.of(operator, first, second)) {
        browser.await("no count-down", () -> browser.all("#count[hidden]").size() == 1);
      }
      tether.land(-1.6);
      for (Browser browser : List.of(operator, first, second)) {
        browser.await("the alarm", () -> browser.text(By.id("missed-words")).startsWith("Frame 3"));
      }
      first.named("button", "Noted").click();
      first.await("it is noted here", () -> first.text(By.id("missed-words")).isEmpty());
      assertFalse(second.text(By.id("missed-words")).isEmpty(), "and on this device alone");
      second.keep("tether-viewer-phone");
    }
  }

  private static final String POST =
      "const asked = new XMLHttpRequest(); asked.open('POST', arguments[0], false);"
          + "asked.setRequestHeader('Content-Type', 'application/json');"
          + "asked.setRequestHeader('X-Scenespan', '1');"
          + "asked.send(JSON.stringify({file: 'F_0001.JPG', mark: 'keep'}));"
          + "return asked.status";
}
