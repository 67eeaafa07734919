package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
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
