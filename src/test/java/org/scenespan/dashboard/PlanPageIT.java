package org.scenespan.dashboard;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.net.URL;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.scenespan.wire.PlanJson;

/** The page on planning in a real browser, by role and name and by keyboard. */
class PlanPageIT extends PageInBrowser {
  private void openPlan() {
    browser.open(dashboard.address() + "plan.html");
    browser.await("an answer", () -> !browser.text(By.id("plan-verdict")).isEmpty());
  }

  @Test
  void aSliderMovedByKeysChangesTheSettings() throws IOException {
    openPlan();
    assertEquals("These hold every wish", browser.text(By.id("plan-verdict")));
    String before = browser.text(By.id("plan-settings"));
    assertTrue(before.contains("1/60"), before);
    WebElement light = browser.named("slider", "The scene's light");
    light.sendKeys(Keys.ARROW_RIGHT, Keys.ARROW_RIGHT);
    browser.await("an answer", () -> browser.text(By.id("plan-settings")).contains("1/125"));
    assertTrue(browser.text(By.id("plan-ev-said")).contains("13"));
    // Each proposal can be saved: the link's own answer is what bracket --plan takes.
    WebElement save = browser.all("#plan-settings a").get(0);
    assertEquals("scenespan-plan.json", save.getDomAttribute("download"));
    assertTrue(save.getAccessibleName().startsWith("Save 1/125"), save.getAccessibleName());
    String saved =
        new String(new URL(save.getDomProperty("href")).openStream().readAllBytes(), UTF_8);
    assertEquals("1/125 s", PlanJson.limits(saved).start().shutter().toString());
    assertEquals(List.of(), browser.complaints());
    browser.keep("plan-day");
  }

  @Test
  void saysWhatHasToGive() {
    openPlan();
    WebElement water = browser.all("#plan-water").get(0);
    water.sendKeys("mist");
    browser.await(
        "an answer", () -> browser.text(By.id("plan-verdict")).startsWith("Nothing holds"));
    browser.await(
        "an answer", () -> browser.text(By.id("plan-remedies")).contains("neutral density"));
  }

  @Test
  void nightSendsNoLightButRed() throws IOException {
    openPlan();
    browser.named("radio", "Night").click();
    browser.click(browser.named("checkbox", "Sharp from here to infinity"));
    BufferedImage seen = browser.look(browser.all("body").get(0));
    int stray = 0;
    for (int pixel :
        seen.getRGB(0, 0, seen.getWidth(), seen.getHeight(), null, 0, seen.getWidth())) {
      stray = Math.max(stray, pixel & 0xffff);
    }
    browser.keep("plan-night");
    assertEquals(0, stray, "green or blue");
  }
}
