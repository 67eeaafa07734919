package org.scenespan.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** The journal's first format: a line per type of event, read and written back to the letter. */
class EventJsonTest {
  /** A session of each kind. */
  private static final List<String> GOLDEN =
      List.of(
          "/journals/format-1.jsonl",
          "/journals/tether-1.jsonl",
          "/journals/hand-1.jsonl",
          "/journals/lapse-1.jsonl");

  static Stream<String> lines() throws IOException {
    List<String> lines = new ArrayList<>();
    for (String golden : GOLDEN) {
      try (InputStream in = EventJsonTest.class.getResourceAsStream(golden)) {
        new String(in.readAllBytes(), StandardCharsets.UTF_8).lines().forEach(lines::add);
      }
    }
    return lines.stream();
  }

  @ParameterizedTest
  @MethodSource("lines")
  void readsAndWritesEveryTypeToTheLetter(String line) throws MalformedRecord {
    assertEquals(line, EventJson.write(EventJson.read(line)));
  }

  /** What only a camera that keeps its own exposure has, or one whose raw file comes later. */
  @Test
  void readsAndWritesWhatIsSetOnlySometimes() throws IOException, MalformedRecord {
    List<String> golden = lines().toList();
    String opened =
        golden
            .get(0)
            .replace("\"raw\":false", "\"raw\":true,\"jpegFirst\":true,\"framesPerRelease\":3");
    assertTrue(opened.contains("framesPerRelease"));
    assertEquals(opened, EventJson.write(EventJson.read(opened)));
    for (String line : List.of(golden.get(3), golden.get(4))) {
      String without = line.replaceFirst("\"exposure\":\\{[^}]*},?", "").replace(",}", "}");
      assertTrue(!without.contains("exactSeconds") && without.contains("shot"), without);
      assertEquals(without, EventJson.write(EventJson.read(without)));
    }
  }

  @Test
  void theGoldenFilesHaveALineOfEveryType() throws IOException, MalformedRecord {
    TreeSet<String> types = new TreeSet<>();
    for (String line : lines().toList()) {
      types.add(line.replaceAll(".*?\"type\":\"([a-z-]+)\".*", "$1"));
    }
    assertEquals(List.copyOf(EventJson.typeNames()), List.copyOf(types));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      quoteCharacter = '`',
      value = {
        "not json | Unrecognized token",
        "[1] | not a JSON object",
        "{\"seq\":1} | field type must be a text",
        "{\"seq\":1,\"at\":\"2026-05-04T03:00:00Z\",\"type\":\"no-such\"} | unknown type"
            + " \"no-such\"",
        "{\"seq\":0,\"at\":\"2026-05-04T03:00:00Z\",\"type\":\"session-held\"} | seq (0)",
        "{\"seq\":1,\"at\":\"yesterday\",\"type\":\"session-held\"} | yesterday",
        "{\"seq\":1,\"at\":\"2026-05-04T03:00:00Z\",\"type\":\"scene-metered\",\"ev\":\"x\"} | ev",
        "{\"seq\":1,\"at\":\"2026-05-04T03:00:00Z\",\"type\":\"session-opened\",\"version\":9} |"
            + " version (9)",
      })
  void saysWhatIsWrongWithALine(String line, String reason) {
    MalformedRecord wrong = assertThrows(MalformedRecord.class, () -> EventJson.read(line));
    assertTrue(wrong.getMessage().contains(reason), wrong.getMessage());
  }

  /** Found by mutated journals: each part is right by itself, and together they allow nothing. */
  @ParameterizedTest
  @CsvSource({
    "\"highestIso\":1600.0, \"highestIso\":8.0, below the camera's lowest",
    "\"aperture\":2.8, \"aperture\":32.0, outside of what the camera can set",
    "\"shortestSeconds\":1.220703125E-4, \"shortestSeconds\":20.0, allows no shutter",
    "\"stepSeconds\":0.0, \"stepSeconds\":22.0, resolution"
  })
  void aLapseWhosePartsContradictEachOtherIsNoRecord(String part, String other, String reason)
      throws IOException {
    String opened = lines().filter(line -> line.contains("\"kind\":\"lapse\"")).findFirst().get();
    assertTrue(opened.contains(part));
    MalformedRecord wrong =
        assertThrows(MalformedRecord.class, () -> EventJson.read(opened.replace(part, other)));
    assertTrue(wrong.getMessage().contains(reason), wrong.getMessage());
  }
}
