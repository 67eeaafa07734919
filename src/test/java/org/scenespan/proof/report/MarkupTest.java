package org.scenespan.proof.report;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.StringWriter;
import org.junit.jupiter.api.Test;

class MarkupTest {
  /** A file's name is the photographer's, a trigger's words are anybody's. */
  @Test
  void letsNoTextBecomeMarkup() {
    StringWriter writer = new StringWriter();
    Markup page = new Markup(writer);
    page.in(
        "p",
        new String[] {"title", "\"><script>"},
        () -> page.words("<img src=x onerror=alert(1)>&\u0007\u009b\ud83d\ude00"));
    page.close();
    assertEquals(
        "<!DOCTYPE html><p title=\"&quot;&gt;&lt;script&gt;\">"
            + "&lt;img src=x onerror=alert(1)&gt;&amp;??\ud83d\ude00</p>",
        writer.toString());
  }
}
