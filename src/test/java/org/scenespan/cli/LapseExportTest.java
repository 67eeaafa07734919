package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.w3c.dom.Document;

/** A finished lapse handed over to development, and its proof. */
class LapseExportTest {
  private static final String NAMESPACE = "urn:scenespan:evening:1/";

  @TempDir private static Path directory;
  private static Path sessions;
  private static String name;

  @BeforeAll
  static void takeALapse() throws IOException {
    sessions = directory.resolve("sessions");
    Path light = directory.resolve("light.csv");
    Files.writeString(light, "seconds,ev\n0,6\n120,6.2\n");
    Ran ran =
        Ran.of(
            "lapse", "--simulate", light.toString(), "--frames", "6", "--sessions", sessions + "");
    assertEquals(0, ran.code(), ran.err());
    try (var all = Files.list(sessions)) {
      name = all.findFirst().orElseThrow().getFileName().toString();
    }
  }

  private static Ran export(Path to) {
    return Ran.of("sessions", "export", name, "--to", to + "", "--sessions", sessions + "");
  }

  @Test
  void writesATableAnObjectAndASidecarAFrame() throws Exception {
    Path to = directory.resolve("evening");
    Ran ran = export(to);
    assertEquals(0, ran.code(), ran.err());
    List<String> rows = Files.readAllLines(to.resolve("evening.csv"));
    assertEquals(7, rows.size());
    assertTrue(rows.get(1).startsWith("1,0,SCN_0001.JPG,"), rows.get(1));
    String gain = rows.get(3).substring(rows.get(3).lastIndexOf(',') + 1);
    DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
    factory.setNamespaceAware(true);
    Document sidecar = factory.newDocumentBuilder().parse(to.resolve("SCN_0003.xmp").toFile());
    assertEquals(
        gain, sidecar.getElementsByTagNameNS(NAMESPACE, "GainStops").item(0).getTextContent());
    assertTrue(Files.readString(to.resolve("evening.json")).contains("\"gainStops\""));
  }

  /** What was said of a frame goes into its one sidecar, beside the gain. */
  @Test
  void handsOverWhatWasSaidOfAFrame() throws Exception {
    Path journal = sessions.resolve(name).resolve("journal.jsonl");
    List<String> before = Files.readAllLines(journal);
    List<String> lines = new ArrayList<>(before);
    String last = lines.remove(lines.size() - 1);
    int seq = lines.size() + 1;
    String at = last.replaceFirst(".*?\"at\":\"([^\"]+)\".*", "$1");
    lines.add(
        "{\"seq\":"
            + seq
            + ",\"at\":\""
            + at
            + "\",\"type\":\"frame-marked\",\"file\":\"SCN_0003.JPG\",\"mark\":\"reject\","
            + "\"note\":\"a bird & a car\"}");
    lines.add(last.replaceFirst("\"seq\":\\d+", "\"seq\":" + (seq + 1)));
    Files.write(journal, lines);
    Path to = directory.resolve("said");
    Ran ran = export(to);
    Files.write(journal, before);
    assertEquals(0, ran.code(), ran.err());
    DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
    factory.setNamespaceAware(true);
    Document sidecar = factory.newDocumentBuilder().parse(to.resolve("SCN_0003.xmp").toFile());
    assertEquals(
        "-1",
        sidecar
            .getElementsByTagNameNS("http://ns.adobe.com/xap/1.0/", "Rating")
            .item(0)
            .getTextContent());
    assertEquals(1, sidecar.getElementsByTagNameNS(NAMESPACE, "GainStops").getLength());
    assertTrue(
        Files.readAllLines(to.resolve("marks.csv"))
            .contains("3,SCN_0003.JPG,reject,\"a bird & a car\""));
  }

  /** A sidecar of another program's is in the way: then nothing at all is written. */
  @Test
  void leavesWhatIsThereAlone() throws IOException {
    Path to = Files.createDirectory(directory.resolve("taken"));
    Files.writeString(to.resolve("SCN_0002.xmp"), "another's");
    Ran ran = export(to);
    assertEquals(2, ran.code());
    assertTrue(ran.err().contains("SCN_0002.xmp") && ran.err().contains("left alone"), ran.err());
    assertEquals("another's", Files.readString(to.resolve("SCN_0002.xmp")));
    try (var all = Files.list(to)) {
      assertEquals(1, all.count());
    }
  }

  @Test
  void assemblesAFilm() {
    Ran ran = Ran.of("proof", name, "--rate", "24", "--sessions", sessions + "");
    assertEquals(0, ran.code(), ran.err());
    assertTrue(ran.out().contains("A film of 6 frames at 24 a second"), ran.out());
    Path proof = sessions.resolve(name).resolve("proof");
    assertTrue(Files.exists(proof.resolve("evened.mp4")), "film");
    assertTrue(Files.exists(proof.resolve("brightness.svg")), "plot");
  }
}
