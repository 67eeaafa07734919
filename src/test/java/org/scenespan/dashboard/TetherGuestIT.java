package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.zxing.BinaryBitmap;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.common.HybridBinarizer;
import com.google.zxing.qrcode.QRCodeReader;
import java.awt.image.BufferedImage;
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
import org.scenespan.session.Mark;

/** A guest's tablet beside the operator's, both at 127.0.0.2, where every caller is a stranger. */
@Tag("browser")
@Timeout(120)
class TetherGuestIT {
  @TempDir private Path directory;

  /** Nine files, the entry, a look and two pictures; how often it looks besides is the clock's. */
  private static final int LEAST_ASKED = 13;

  @Test
  void aGuestSeesWhatTheOperatorLetsItSee() throws Exception {
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
    SampleTether tether = new SampleTether(records);
    tether.land(0);
    try (Dashboard dashboard =
            new Dashboard(
                0,
                records,
                tether,
                tether.pictures(),
                new Dashboard.Reach(
                    InetAddress.getByAddress(new byte[] {127, 0, 0, 2}),
                    pairing,
                    (ours, theirs) -> false,
                    Duration.ofSeconds(10)));
        Browser operator = new Browser(directory.resolve("operator"));
        Browser guest = new Browser(directory.resolve("guest"))) {
      operator.resize(1280, 800);
      guest.resize(1280, 800);
      operator.open(dashboard.address() + "#" + pairing.operatorCode());
      operator.click(operator.named("button", "Guest page …"));
      operator.named("button", "Make a link").click();
      operator.await("the link", () -> operator.text(By.id("guest-link")).contains("guest.html#"));
      String link = operator.text(By.id("guest-link"));
      assertEquals(link, scanned(operator));
      assertEquals(List.of(), operator.stumblingBlocks());
      operator.keep("tether-guest-link");

      guest.network();
      guest.open(link);
      awaitCard(guest, "Nothing is shown at the moment.");
      assertEquals(dashboard.address() + "guest.html", guest.run("return location.href"));
      assertEquals("", guest.run("return document.cookie"), "no script reads the token");
      guest.keep("guest-nothing");
      looksRight(guest);

      operator.click(operator.named("radio", "The last frame"));
      String first = awaitPicture(guest, "");
      guest.keep("guest-picture");
      looksRight(guest);
      tether.land(0.02);
      String second = awaitPicture(guest, first);
      operator.click(operator.named("radio", "The last kept frame"));
      awaitCard(guest, "Nothing is shown at the moment.");
      tether.mark("F_0001.JPG", Mark.KEEP, "");
      assertFalse(awaitPicture(guest, second).equals(second));

      operator.named("button", "Withdraw the link").click();
      awaitCard(guest, "This link is not valid any more.");
      guest.keep("guest-withdrawn");
      operator.named("button", "Make a link");
      // Nothing else was asked for, and no address holds the secret or a frame's name.
      String secret = link.substring(link.indexOf('#') + 1);
      List<String> told = guest.network();
      assertEquals(List.of(), ForeignRequests.in(told, LEAST_ASKED));
      assertTrue(
          told.stream().noneMatch(it -> it.matches("(?s).*\"url\":\"[^\"#]*" + secret + ".*")));
      assertTrue(
          told.stream().noneMatch(it -> it.matches("(?s).*\"url\":\"[^\"]*/(api|previews)/.*")));
      assertTrue(told.stream().noneMatch(it -> it.contains("F_000")));
    }
  }

  private static void awaitCard(Browser guest, String words) {
    guest.await(words, () -> guest.text(By.id("card-words")).equals(words));
    assertEquals(1, guest.all("#shown[hidden]").size());
  }

  private static String awaitPicture(Browser guest, String before) {
    guest.await(
        "a picture",
        () ->
            guest.all("#shown:not([hidden])").size() == 1
                && !guest.all("#shown").get(0).getDomAttribute("src").equals(before));
    return guest.all("#shown").get(0).getDomAttribute("src");
  }

  /** No number is seen, nothing stands out, and nobody stumbles, in each theme. */
  private static void looksRight(Browser guest) {
    String text = (String) guest.run("return document.body.innerText");
    assertFalse(text.matches("(?s).*\\d.*"), text);
    for (String theme : List.of("day", "dark")) {
      guest.run("document.documentElement.dataset.theme = arguments[0]", theme);
      assertEquals(List.of(), guest.stumblingBlocks());
    }
    assertEquals(
        true,
        guest.run(
            "return document.documentElement.scrollHeight <= innerHeight"
                + " && document.documentElement.scrollWidth <= innerWidth"));
  }

  /** What a camera reads from the screen. */
  private static String scanned(Browser operator) throws Exception {
    BufferedImage seen = operator.look(operator.all("#guest-drawing").get(0));
    int[] pixels = seen.getRGB(0, 0, seen.getWidth(), seen.getHeight(), null, 0, seen.getWidth());
    return new QRCodeReader()
        .decode(
            new BinaryBitmap(
                new HybridBinarizer(
                    new RGBLuminanceSource(seen.getWidth(), seen.getHeight(), pixels))))
        .getText();
  }
}
