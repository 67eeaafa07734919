package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A session on paper. */
class ReportCommandTest {
  @TempDir private Path directory;

  private Path session(String command) throws IOException {
    Path sessions = directory.resolve("sessions");
    Ran ran = Ran.line(command + " --sessions " + sessions);
    assertEquals(0, ran.code(), ran.err());
    try (Stream<Path> all = Files.list(sessions)) {
      return all.findFirst().orElseThrow();
    }
  }

  private Ran report(Path session, String... more) {
    return Ran.line(
        "sessions report --sessions " + session.getParent() + " " + session.getFileName(), more);
  }

  private static int count(String page, String pattern) {
    Matcher matcher = Pattern.compile(pattern).matcher(page);
    int count = 0;
    while (matcher.find()) {
      count++;
    }
    return count;
  }

  @Test
  void putsABracketOnPaper() throws IOException {
    Path session = session("bracket --simulate window");
    Ran ran = report(session);
    assertEquals(0, ran.code(), ran.err());
    String page = Files.readString(session.resolve("report.html"));
    assertTrue(page.startsWith("<!DOCTYPE html><html lang=\"en\">"), page.substring(0, 60));
    int frames = count(page, "<td>SCN_\\d+\\.JPG</td>");
    assertTrue(frames >= 2, "a row each frame");
    assertEquals(frames, count(page, "<img src=\"data:image/jpeg;base64,"), "a picture each");
    assertEquals(3, count(page, "<figure>"), "reach, scene and signal-to-noise");
    assertTrue(page.contains("lies in the reach of a frame"), "how it ended");
    assertTrue(page.contains("The meter says EV 12.0"), "why");
    // Again: the session's own report is replaced.
    assertEquals(0, report(session).code());
  }

  @Test
  void putsALapseOnPaper() throws IOException {
    Path session =
        session(
            "lapse --simulate sunrise --at 46.5,8.0 --date 2026-06-01 --interval 60s --frames 12");
    Ran ran = report(session);
    assertEquals(0, ran.code(), ran.err());
    String page = Files.readString(session.resolve("report.html"));
    assertEquals(12, count(page, "<td>SCN_\\d+\\.JPG</td>"), "a row each frame");
    assertEquals(2, count(page, "<figure>"), "exposures, and how far they are off");
    assertTrue(page.contains("Flicker evened"));
    assertEquals(12, count(page, "<div class=\"frame\">"), "a frame each on the sheet");
  }

  /** Nothing outside is named that a browser would fetch, and nothing can run. */
  @Test
  void asksForNothingOutside() throws IOException {
    Path session = session("bracket --simulate flat");
    report(session);
    String page = Files.readString(session.resolve("report.html"));
    assertEquals(0, count(page, "<(script|link|iframe|object|embed)\\b"));
    assertEquals(0, count(page, "(?:src|href|action)=\"(?!data:)"));
    assertEquals(0, count(page, "url\\(|@import"));
    assertTrue(page.contains("default-src 'none'"));
  }

  @Test
  void replacesNoFileOfOthers() throws IOException {
    Path session = session("bracket --simulate flat");
    Path mine = Files.writeString(directory.resolve("mine.html"), "mine");
    Ran ran = report(session, "--out", mine.toString());
    assertEquals(2, ran.code());
    assertTrue(ran.err().contains("is there already"), ran.err());
    assertEquals("mine", Files.readString(mine));
    Path hot = session.resolve("frames").resolve("report.html");
    ran = report(session, "--out", hot.toString());
    assertEquals(2, ran.code());
    assertTrue(ran.err().contains("only ever read"), ran.err());
    assertFalse(Files.exists(hot));
  }
}
