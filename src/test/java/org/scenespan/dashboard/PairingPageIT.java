package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;

/** Pairing in a real browser, on 127.0.0.2, from where every caller counts as another machine. */
class PairingPageIT extends PageInBrowser {
  private Dashboard shared;
  private Pairing pairing;
  private volatile Instant now = Instant.parse("2026-05-04T03:00:00Z");

  @BeforeEach
  void share() throws IOException {
    shared = openTo(0, 21);
    appendUpTo(seqOf("shot-planned", 2));
  }

  @AfterEach
  void unshare() {
    shared.close();
  }

  private Dashboard openTo(int port, int seed) throws IOException {
    Random chance = new Random(seed);
    pairing =
        new Pairing(
            () -> now,
            () -> {
              byte[] bytes = new byte[32];
              chance.nextBytes(bytes);
              return bytes;
            });
    return new Dashboard(
        port,
        records,
        new OpenDashboard.AskedActs(asked),
        new RidgeScene(),
        new Dashboard.Reach(
            InetAddress.getByAddress(new byte[] {127, 0, 0, 2}),
            pairing,
            (ours, theirs) -> false,
            Duration.ofSeconds(10)));
  }

  private void awaitEntry() {
    browser.await("the entry", () -> browser.all("#entry:not([hidden])").size() == 1);
  }

  private void awaitTold(String words) {
    browser.await(words, () -> browser.text(By.id("entry-told")).contains(words));
  }

  @Test
  void theOperatorEntersTheCodeByKeyboardAndActs() throws IOException {
    browser.open(shared.address());
    awaitEntry();
    browser.await("focus", () -> "entry-code".equals(browser.focused().getDomAttribute("id")));
    browser.keep("1280x800-day-entry");
    browser.press("123" + Keys.ENTER);
    awaitTold("a code has eight digits");
    browser.press("00000000" + Keys.ENTER);
    awaitTold("this is not a code of this session");
    now = now.plusSeconds(2);
    String code = pairing.operatorCode();
    browser.press(code.substring(0, 4) + " " + code.substring(4) + Keys.ENTER);
    awaitPhase("Shot 2 is planned");
    assertEquals("Operator. One wrong code was tried.", browser.text(By.id("role")));
    browser.named("image", "Preview of SCN_0001.jpg");
    browser.named("button", "Hold").click();
    browser.await("the wish", () -> asked.equals(List.of("hold")));
  }

  @Test
  void aViewerIsTouchedInAndIsOfferedNoActs() throws IOException {
    browser.resize(390, 844);
    browser.open(shared.address());
    awaitEntry();
    browser.run("document.getElementById('entry-code').value = arguments[0]", pairing.viewerCode());
    assertTrue(browser.named("button", "Pair this browser").getRect().getHeight() >= 48);
    browser.keep("390x844-day-entry");
    browser.named("button", "Pair this browser").click();
    awaitPhase("Shot 2 is planned");
    assertTrue(browser.text(By.id("role")).startsWith("Viewer: this page looks on."));
    assertFalse(browser.has("button", "Hold"));
    assertFalse(browser.has("button", "Stop"));
    browser.keep("390x844-day-viewer");
  }

  @Test
  void aScannedAddressPairsAndTheCodeLeavesIt() {
    browser.open(shared.address() + "#" + pairing.operatorCode());
    awaitPhase("Shot 2 is planned");
    assertEquals("Operator", browser.text(By.id("role")));
    assertEquals(shared.address(), browser.run("return location.href"));
    assertEquals("", browser.run("return document.cookie"), "no script reads the token");
    String code = pairing.operatorCode();
    long inAddresses =
        browser.network().stream()
            .filter(told -> told.matches("(?s).*\"url\":\"[^\"#]*" + code + ".*"))
            .count();
    assertEquals(0, inAddresses, "the code went out in an address");
  }

  @Test
  void afterAnotherRunACodeIsAskedForAgain() throws IOException {
    browser.open(shared.address() + "#" + pairing.viewerCode());
    awaitPhase("Shot 2 is planned");
    int port = shared.port();
    shared.close();
    shared = openTo(port, 22);
    awaitEntry();
  }
}
