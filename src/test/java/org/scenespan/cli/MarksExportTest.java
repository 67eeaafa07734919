package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.w3c.dom.Document;

/** A tether's marks handed over; names and values of the properties are those of XMP, part 1. */
class MarksExportTest {
  private static final String XMP = "http://ns.adobe.com/xap/1.0/";
  private static final String DC = "http://purl.org/dc/elements/1.1/";

  @TempDir private Path directory;
  private Path sessions;

  @BeforeEach
  void keepATether() throws IOException {
    sessions = directory.resolve("sessions");
    Path session = Files.createDirectories(sessions.resolve("studio"));
    try (InputStream in = MarksExportTest.class.getResourceAsStream("/journals/tether-1.jsonl")) {
      String journal = new String(in.readAllBytes(), StandardCharsets.UTF_8);
      Files.writeString(
          session.resolve("journal.jsonl"),
          journal.replace("\"note\":\"flash\"", "\"note\":\"<flash> & \\\"lamp\\\"\""));
    }
  }

  private Ran run(String words, String... more) {
    return Ran.line("sessions " + words + " studio --sessions " + sessions, more);
  }

  @Test
  void writesATableAndASidecarForWhatIsMarked() throws Exception {
    Path to = directory.resolve("marks");
    Ran ran = run("export", "--to", to.toString());
    assertEquals(0, ran.code(), ran.err());
    List<String> rows = Files.readAllLines(to.resolve("marks.csv"));
    assertEquals(3, rows.size());
    assertTrue(rows.get(1).startsWith("1,SCN_0001.DNG,none,,"), rows.get(1));
    assertTrue(rows.get(2).contains(",reject,\"<flash> & \"\"lamp\"\"\",-0.3100,"), rows.get(2));
    DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
    factory.setNamespaceAware(true);
    Document sidecar = factory.newDocumentBuilder().parse(to.resolve("SCN_0002.xmp").toFile());
    assertEquals("-1", sidecar.getElementsByTagNameNS(XMP, "Rating").item(0).getTextContent());
    assertEquals(
        "<flash> & \"lamp\"",
        sidecar.getElementsByTagNameNS(DC, "description").item(0).getTextContent().strip());
    try (var all = Files.list(to)) {
      assertEquals(2, all.count(), "none for a frame that is not marked");
    }
  }

  /** A bracket hands over what was said of its frames, and nothing where nothing was. */
  @Test
  void handsOverABracketsMarksToo() throws Exception {
    Path brackets = directory.resolve("brackets");
    Ran taken = Ran.line("bracket --simulate flat --sessions " + brackets);
    assertEquals(0, taken.code(), taken.err());
    Path journal;
    try (var all = Files.list(brackets)) {
      journal = all.findFirst().orElseThrow().resolve("journal.jsonl");
    }
    String name = journal.getParent().getFileName().toString();
    List<String> lines = new ArrayList<>(Files.readAllLines(journal));
    Path to = directory.resolve("ridge");
    String line = "sessions export " + name + " --sessions " + brackets;
    Ran nothing = Ran.line(line, "--to", to.toString());
    assertEquals(2, nothing.code());
    assertTrue(nothing.err().contains("none of its frames is marked"), nothing.err());

    String file =
        lines.stream()
            .filter(each -> each.contains("\"frame-accepted\""))
            .findFirst()
            .orElseThrow();
    file = file.replaceFirst(".*?\"frame\":\\{\"file\":\"([^\"]+)\".*", "$1");
    String last = lines.remove(lines.size() - 1);
    int seq = lines.size() + 1;
    lines.add(
        "{\"seq\":"
            + seq
            + ",\"at\":\"2026-05-04T03:00:09Z\",\"type\":\"frame-marked\",\"file\":\""
            + file
            + "\",\"mark\":\"keep\",\"note\":\"\"}");
    lines.add(last.replaceFirst("\"seq\":\\d+", "\"seq\":" + (seq + 1)));
    Files.write(journal, lines);
    Ran ran = Ran.line(line, "--to", to.toString());
    assertEquals(0, ran.code(), ran.err());
    assertTrue(Files.readAllLines(to.resolve("marks.csv")).contains("1," + file + ",keep,"));
    String stem = file.substring(0, file.lastIndexOf('.'));
    assertTrue(Files.readString(to.resolve(stem + ".xmp")).contains("<xmp:Rating>1</xmp:Rating>"));
  }

  @Test
  void leavesASidecarOfOthersAlone() throws IOException {
    Path to = Files.createDirectory(directory.resolve("taken"));
    Files.writeString(to.resolve("SCN_0002.xmp"), "another's");
    Ran ran = run("export", "--to", to.toString());
    assertEquals(2, ran.code());
    assertTrue(ran.err().contains("left alone"), ran.err());
    assertEquals("another's", Files.readString(to.resolve("SCN_0002.xmp")));
  }

  @Test
  void putsATetherOnPaper() throws IOException {
    Ran ran = run("report");
    assertEquals(0, ran.code(), ran.err());
    String page = Files.readString(sessions.resolve("studio").resolve("report.html"));
    assertTrue(page.contains("&lt;flash&gt; &amp; \"lamp\""), "the note");
    assertTrue(page.contains("No picture was kept."));
    assertTrue(page.contains("How much brighter each frame is than the reference frame"));
  }
}
