package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.openqa.selenium.By;

/** What a hand has to do, in large type, on a tablet and a phone. */
class ByHandPageIT extends PageInBrowser {
  private static final String TURN = "4 clicks";

  @ParameterizedTest
  @CsvSource({"1280, 800", "390, 844"})
  void saysOneTurnInLargeTypeAndAloud(int width, int height) throws IOException {
    browser.resize(width, height);
    appendUpTo(seqOf("frame-accepted", 1));
    records.append(
        "dial-asked",
        "\"shot\":2,\"turns\":[{\"dial\":\"shutter\",\"clicks\":4,\"way\":\"shorter\",\"to\":\"1/250"
            + " s\"},{\"dial\":\"ISO\",\"clicks\":3,\"way\":\"higher\",\"to\":\"ISO 200\"}],"
            + "\"words\":\"Shutter: 4 clicks shorter, to 1/250 s. ISO: 3 clicks higher, to ISO 200."
            + " Then take a frame.\"");
    browser.await("the turn", () -> plain(By.id("next-shutter")).equals(TURN));
    for (String theme : List.of("Day", "Dark", "Night")) {
      browser.named("radio", theme).click();
      assertTrue(plain(By.id("next-rest")).startsWith("Shutter: shorter, to 1/250 s"));
      assertTrue(plain(By.id("next-change")).startsWith("Then ISO: 3 clicks higher"));
      assertTrue(browser.text(By.id("phase")).startsWith("By hand"));
      assertEquals(
          List.of(),
          browser.run(
              "const range = document.createRange();"
                  + "range.selectNodeContents(document.getElementById('next-shutter'));"
                  + "const b = range.getBoundingClientRect();"
                  + "const c = document.getElementById('next').getBoundingClientRect();"
                  + "return b.right > c.right + 1 || b.height < 40 ? [b.right, c.right] : []"),
          "large, and not cut off");
      assertEquals(List.of(), browser.stumblingBlocks(), theme);
      browser.keep("by-hand-" + width + "-" + theme.toLowerCase(Locale.ROOT));
    }
    browser.run(
        "window.said = []; speechSynthesis.speak = (one) => window.said.push(one.text);"
            + " document.getElementById('aloud').hidden = false;");
    browser.named("button", "Read aloud").click();
    browser.await(
        "the words", () -> Boolean.TRUE.equals(browser.run("return window.said.length === 1")));
    assertTrue(browser.run("return window.said[0]").toString().startsWith("Shutter: 4 clicks"));
    assertEquals("true", browser.named("button", "Read aloud").getDomAttribute("aria-pressed"));
  }

  /** Numbers and units are held together by a narrow space. */
  private static String plain(By place) {
    return browser.text(place).replaceAll("[\\u202f\\u00a0]", " ");
  }
}
