package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.io.IOException;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;

/** A page whose files a real browser has kept, opened while the program is away. */
class InstalledPageIT extends PageInBrowser {
  private static final String HOW_MANY_KEPT =
      "return caches.open('scenespan-shell').then(kept => kept.keys()).then(all => all.length)";

  private static final String KEEP_AN_EARLIER_FILE =
      "return caches.open('scenespan-shell')"
          + ".then(kept => kept.put('views/earlier.js', new Response('')))";

  @Test
  void opensWhileTheProgramIsAwaySaysSoAndGoesOnWhenItIsBack() throws IOException {
    int port = dashboard.port();
    appendUpTo(seqOf("shot-planned", 2));
    awaitPhase("Shot 2 is planned");
    browser.run(KEEP_AN_EARLIER_FILE);
    // "./" and all that the list names, and nothing that an earlier version kept.
    browser.await("its files", () -> ((Number) browser.run(HOW_MANY_KEPT)).intValue() == 13);
    dashboard.close();

    browser.open("http://127.0.0.1:" + port + "/");
    browser.await(
        "that it is away", () -> browser.text(By.id("before-status")).contains("does not answer"));
    assertNotEquals(
        "",
        browser.run("return getComputedStyle(document.body).getPropertyValue('--ink')"),
        "its styles are there");
    browser.keep("installed-away");
    browser.open("http://127.0.0.1:" + port + "/plan.html");
    browser.named("heading", "Plan an exposure");

    browser.open("http://127.0.0.1:" + port + "/");
    browser.await(
        "that it is away", () -> browser.text(By.id("before-status")).contains("does not answer"));
    dashboard = new Dashboard(port, records, new OpenDashboard.AskedActs(asked), new RidgeScene());
    awaitPhase("Shot 2 is planned");
    assertEquals(13, ((Number) browser.run(HOW_MANY_KEPT)).intValue());
  }
}
