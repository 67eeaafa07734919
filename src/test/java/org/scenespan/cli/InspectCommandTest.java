package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.folder.FrameReader;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.LogHistogram;

class InspectCommandTest {
  @TempDir Path folder;

  private Path picture(String name, int grey) throws IOException {
    BufferedImage image = new BufferedImage(32, 16, BufferedImage.TYPE_INT_RGB);
    for (int i = 0; i < 32 * 16; i++) {
      image.setRGB(i % 32, i / 32, grey * 0x010101);
    }
    Path file = folder.resolve(name);
    String format = name.endsWith("png") ? "png" : "jpeg";
    ImageIO.write(image, format, file.toFile());
    return file;
  }

  /** A mosaic of 8 bits and four rows, half of it saturated. */
  private Path raw(String name) throws IOException {
    int[][] fields = {
      {256, 8},
      {257, 4},
      {258, 8},
      {259, 1},
      {262, 32803},
      {273, 8},
      {277, 1},
      {278, 4},
      {279, 32},
      {33421, 2 << 16 | 2},
      {33422, 0x00010102}
    };
    ByteBuffer tiff = ByteBuffer.allocate(8 + 32 + 2 + 12 * fields.length + 4);
    tiff.putInt(0x4d4d002a).putInt(40);
    for (int i = 0; i < 32; i++) {
      tiff.put((byte) (i < 16 ? 255 : 64));
    }
    tiff.putShort((short) fields.length);
    for (int[] field : fields) {
      boolean pair = field[0] == 33421;
      boolean bytes = field[0] == 33422;
      tiff.putShort((short) field[0]).putShort((short) (pair ? 3 : bytes ? 1 : 4));
      tiff.putInt(pair ? 2 : bytes ? 4 : 1).putInt(field[1]);
    }
    tiff.putInt(0);
    return Files.write(folder.resolve(name), tiff.array());
  }

  @Test
  void manyFilesKeepTheirOrder() throws Exception {
    List<String> words = new ArrayList<>(List.of("inspect", "--json"));
    for (int i = 0; i < 30; i++) {
      Path file = i == 7 ? folder.resolve("none.jpg") : picture("f" + i + ".png", i * 8);
      words.add(file.toString());
    }
    Ran ran = Ran.of(words.toArray(String[]::new));
    assertEquals(2, ran.code(), "one of them cannot be read");
    List<String> lines = ran.out().lines().toList();
    assertEquals(30, lines.size());
    double last = -100;
    for (int i = 0; i < 30; i++) {
      JsonNode node = new ObjectMapper().readTree(lines.get(i));
      assertEquals(words.get(i + 2), node.get("file").asText());
      assertEquals(i == 7, node.has("error"));
      if (i != 7) {
        double median = node.get("percentilesStops").get("50").asDouble();
        assertTrue(median >= last, "not darker than the one before");
        last = median;
        assertEquals("png", node.get("format").asText());
        assertTrue(node.get("sharpness").isNumber());
        assertEquals(16, node.at("/sharpnessRegions/columns").asInt());
        assertEquals(16 * 16, node.at("/sharpnessRegions/values").size());
      }
    }
  }

  @Test
  void whatClipsAlikeIsSaidToDoSo() throws Exception {
    FrameReading reading = new FrameReader().read(picture("A.jpg", 90));
    assertEquals(
        "A.dng clips 0 %, A.jpg clips 0 %: alike",
        new FrameTable(80, true, true).pair(Path.of("A.dng"), reading, Path.of("A.jpg"), reading));
  }

  @Test
  void rawAndJpegOfOnePressAreCompared() throws Exception {
    String jpeg = picture("A.jpg", 90).toString();
    String raw = raw("A.dng").toString();
    Ran ran = Ran.of("inspect", raw, jpeg);
    assertEquals(0, ran.code(), ran.err());
    String last = ran.out().lines().reduce((first, second) -> second).orElseThrow();
    assertEquals("A.dng clips 50 %, A.jpg clips 0 %: the JPEG clips 50.0000 % less", last);
    assertTrue(ran.out().contains("stops from saturation"), ran.out());
    Ran json = Ran.of("inspect", "--json", raw, jpeg);
    JsonNode first = new ObjectMapper().readTree(json.out().lines().findFirst().orElseThrow());
    assertEquals("A.jpg", first.get("companion").asText());
    assertEquals("raw", first.get("source").asText());
    assertEquals("sensor", first.get("colour").asText());
  }

  @Test
  void anErrorIsOneLineAndTheOthersAreShown() throws Exception {
    Ran ran =
        Ran.of("inspect", folder.resolve("b.jpg").toString(), picture("a.png", 200).toString());
    assertEquals(2, ran.code());
    assertEquals(1, ran.err().lines().count(), ran.err());
    assertTrue(ran.out().contains("a.png"), ran.out());
  }

  /** The numbers of a table are those of the JSON form, and a name with a comma stays whole. */
  @Test
  void aTableForASpreadsheet() throws Exception {
    String odd = picture("a, \"b\".png", 90).toString();
    String none = folder.resolve("none.jpg").toString();
    Ran ran = Ran.of("inspect", "--csv", odd, none);
    assertEquals(2, ran.code());
    assertEquals("", ran.err());
    List<String> lines = ran.out().lines().toList();
    assertEquals(3, lines.size(), ran.out());
    JsonNode json = new ObjectMapper().readTree(Ran.of("inspect", "--json", odd).out());
    String median = Double.toString(json.at("/percentilesStops/50").asDouble());
    int column = List.of(lines.get(0).split(",")).indexOf("medianStops");
    String name = '"' + odd.replace("\"", "\"\"") + '"';
    assertTrue(lines.get(1).startsWith(name + ",,png,full,"), lines.get(1));
    assertEquals(median, lines.get(1).substring(name.length()).split(",", -1)[column]);
    assertTrue(lines.get(2).startsWith(none + ",the file has gone,,"), lines.get(2));
    int fields = lines.get(0).split(",", -1).length;
    assertEquals(fields, lines.get(2).split(",", -1).length);
  }

  @ParameterizedTest
  @CsvSource({"'', 2", "--recursive, 4"})
  void wholeFolders(String option, int expected) throws Exception {
    Files.createDirectories(folder.resolve("deep/deeper"));
    Files.createDirectories(folder.resolve("previews"));
    picture("b.png", 90);
    picture("a.png", 90);
    picture("deep/c.png", 90);
    picture("deep/deeper/d.png", 90);
    Files.writeString(folder.resolve("notes.txt"), "no frame");
    Files.writeString(folder.resolve("journal.jsonl"), "");
    picture("previews/a.png", 90);
    Files.createSymbolicLink(folder.resolve("deep/loop"), folder);
    Ran ran = Ran.line("inspect --json " + option, folder.toString());
    assertEquals(0, ran.code(), ran.err());
    List<String> names = new ArrayList<>();
    for (String line : ran.out().lines().toList()) {
      String file = new ObjectMapper().readTree(line).get("file").asText();
      names.add(folder.relativize(Path.of(file)).toString());
    }
    List<String> all = List.of("a.png", "b.png", "deep/c.png", "deep/deeper/d.png");
    assertEquals(all.subList(0, expected), names);
  }

  /** A scene of 64 by 48 pixels, even in stops over sixteen of them (Radiance, not compressed). */
  private Path scene() throws IOException {
    ByteArrayOutputStream file = new ByteArrayOutputStream();
    file.writeBytes(
        "#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 48 +X 64\n".getBytes(StandardCharsets.US_ASCII));
    for (int i = 0; i < 64 * 48; i++) {
      double light = Math.pow(2, 16.0 * i / (64 * 48) - 8);
      int exponent = Math.getExponent(light) + 1;
      int mantissa = (int) (light / Math.pow(2, exponent) * 256);
      file.write(mantissa);
      file.write(mantissa);
      file.write(mantissa);
      file.write(exponent + 128);
    }
    return Files.write(folder.resolve("scene.hdr"), file.toByteArray());
  }

  /** The frames of a bracket of the small scene. */
  private Path bracket(String... options) throws IOException {
    Path sessions = folder.resolve("sessions");
    List<String> words = new ArrayList<>(List.of("bracket", "--simulate", scene().toString()));
    words.addAll(List.of("--sessions", sessions.toString()));
    words.addAll(List.of(options));
    Ran ran = Ran.of(words.toArray(String[]::new));
    assertEquals(0, ran.code(), ran.err());
    try (Stream<Path> all = Files.list(sessions)) {
      return all.findFirst().orElseThrow().resolve("frames");
    }
  }

  /** A bracket that covered is found whole; without its ends it is said what is lost. */
  @Test
  void aSetThatIsAlreadyShot() throws Exception {
    Path frames = bracket();
    Ran whole = Ran.of("inspect", "--sets", "--json", frames.toString());
    assertEquals(0, whole.code(), whole.err());
    JsonNode set = new ObjectMapper().readTree(whole.out());
    assertTrue(set.get("covered").asBoolean(), whole.out());
    assertEquals(0, set.get("lost").size() + set.get("wouldHaveTaken").size());
    List<Double> evs = new ArrayList<>();
    for (String line : Ran.of("inspect", "--json", frames.toString()).out().lines().toList()) {
      JsonNode frame = new ObjectMapper().readTree(line);
      evs.add(frame.get("ev").asDouble());
      if (frame.get("clippedFraction").get("any").asDouble() == 0) {
        Files.delete(Path.of(frame.get("file").asText()));
      }
    }
    int taken = set.get("files").size();
    Ran open = Ran.of("inspect", "--sets", "--json", frames.toString());
    JsonNode lost = new ObjectMapper().readTree(open.out());
    assertTrue(lost.get("files").size() < taken && !lost.get("covered").asBoolean(), open.out());
    assertEquals("above", lost.at("/lost/0/where").asText(), open.out());
    assertTrue(lost.at("/lost/0/guess").asBoolean(), "nothing tells how far it goes");
    // As much darker as the bracket went, or a little less than its step, which left a margin.
    double darkest = evs.stream().mapToDouble(it -> it).max().orElseThrow();
    assertEquals(darkest, lost.at("/wouldHaveTaken/0/ev").asDouble(), 1.0, open.out());
    Ran words = Ran.of("inspect", "--sets", frames.toString());
    assertTrue(words.out().contains("Lost above EV "), words.out());
    assertTrue(words.out().contains("It would have taken 1/"), words.out());
    assertTrue(words.out().endsWith("1 set, 1 with something lost.\n"), words.out());
    Ran table = Ran.of("inspect", "--sets", "--csv", frames.toString());
    assertEquals(2, table.out().lines().count(), table.out());
    assertTrue(table.out().contains(",false,"), table.out());
  }

  /** The raw file speaks for a press of both; where it cannot be read, its JPEG does. */
  @ParameterizedTest
  @CsvSource({"false, DNG", "true, JPG"})
  void aSetOfPresses(boolean broken, String counted) throws Exception {
    Path frames = bracket("--raw");
    if (broken) {
      try (Stream<Path> all = Files.list(frames)) {
        for (Path raw : all.filter(file -> file.toString().endsWith("DNG")).toList()) {
          Files.write(raw, new byte[] {1, 2, 3});
        }
      }
    }
    Ran ran = Ran.of("inspect", "--sets", "--json", frames.toString());
    JsonNode set =
        new ObjectMapper()
            .readTree(ran.out().lines().filter(it -> it.contains("files")).toList().get(0));
    for (JsonNode file : set.get("files")) {
      assertTrue(file.asText().endsWith(counted), ran.out());
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {17, 33, 40, 60, 80, 97, 200})
  void barsFitTheirWidthAndShowEveryBin(int columns) {
    long[] counts = new long[LogHistogram.SATURATED_BIN + 1];
    counts[0] = 1;
    counts[50] = 1_000_000;
    counts[LogHistogram.SATURATED_BIN] = 1;
    LogHistogram histogram = LogHistogram.ofCounts(counts);
    for (boolean blocks : new boolean[] {true, false}) {
      List<String> rows = new Bars(columns, blocks).rows(histogram, 6);
      assertEquals(6, rows.size());
      for (String row : rows) {
        assertTrue(row.length() <= columns, row);
        assertTrue(blocks || row.chars().allMatch(c -> c < 128), row);
      }
      String lowest = rows.get(5);
      assertEquals(3, lowest.chars().filter(c -> c != ' ').count(), lowest);
      assertEquals(1, rows.get(0).chars().filter(c -> c != ' ').count(), rows.get(0));
      assertTrue(lowest.charAt(0) != ' ' && lowest.charAt(lowest.length() - 1) != ' ', lowest);
    }
  }

  @Test
  void progressIsForEyesOnly() {
    StringWriter piped = new StringWriter();
    ProgressBar silent = new ProgressBar(new PrintWriter(piped), 10, false);
    silent.show(5);
    silent.clear();
    assertEquals("", piped.toString());
    StringWriter watched = new StringWriter();
    ProgressBar bar = new ProgressBar(new PrintWriter(watched), 10, true);
    bar.show(5);
    assertEquals("\r[############............] 5/10", watched.toString());
    bar.clear();
    bar.clear();
    assertTrue(watched.toString().endsWith("5/10\r\u001b[K"), watched.toString());
  }
}
