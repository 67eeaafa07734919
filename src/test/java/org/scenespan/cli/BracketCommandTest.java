package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.wire.EventJson;

/** A bracket from the command line, on simulated parts. */
class BracketCommandTest {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  @TempDir private Path directory;

  private Ran bracket(String words) {
    return Ran.line("bracket --sessions " + directory.resolve("sessions") + " " + words);
  }

  private static JsonNode last(String out) throws IOException {
    List<String> lines = out.lines().toList();
    return MAPPER.readTree(lines.get(lines.size() - 1));
  }

  /** The margin that is kept for JPEGs costs the ridge a frame, which raw files do not. */
  @ParameterizedTest
  @CsvSource({"ridge, 4", "ridge --raw, 3", "window, 3", "flat, 1"})
  void coversTheBundledScenes(String scene, int most) throws Exception {
    Ran ran = bracket("--simulate " + scene + " --json");
    assertEquals(0, ran.code(), ran.err());
    for (String line : ran.out().lines().toList()) {
      assertEquals(line, EventJson.write(EventJson.read(line)));
    }
    JsonNode report = last(ran.out());
    assertEquals("report", report.get("type").asText());
    assertTrue(report.get("covered").asBoolean());
    assertTrue(report.get("frames").size() <= most, report.toString());
    assertEquals(0.0, report.get("openAboveStops").asDouble());
    assertTrue(report.get("frames").get(0).get("shutterSeconds").isNumber());
  }

  /**
   * Light that grows by a third of a stop a second: what is told is what the scene did from the
   * first release to that of the frame that told it.
   */
  @Test
  void tellsLightThatChangesDuringTheSet() throws Exception {
    Ran ran = bracket("--simulate ridge --raw --drift 20 --json");
    Map<Integer, Instant> commanded = new HashMap<>();
    int shot = 0;
    for (String line : ran.out().lines().toList()) {
      JsonNode record = MAPPER.readTree(line);
      switch (record.get("type").asText()) {
        case "shot-commanded" ->
            commanded.put(record.get("shot").asInt(), Instant.parse(record.get("at").asText()));
        case "frame-accepted", "frame-refined" -> shot = record.get("shot").asInt();
        case "light-drifted" -> {
          Duration between = Duration.between(commanded.get(1), commanded.get(shot));
          assertEquals(
              20 * between.toMillis() / 60_000.0, record.get("stops").asDouble(), 0.1, line);
          return;
        }
        default -> {
          // Of no concern here.
        }
      }
    }
    fail("no change of light was told");
  }

  /** Both files of a press come at one instant of the rehearsed time, in whichever order. */
  @Test
  void aSeedRepeatsEveryRecord() {
    String first = recordsOf();
    for (int i = 0; i < 3; i++) {
      assertEquals(first, recordsOf());
    }
  }

  private String recordsOf() {
    String out = bracket("--simulate ridge --raw --drift 20 --json").out();
    return out.replaceAll("\"session\":\"[^\"]*\"", "");
  }

  @Test
  void aSeedRepeatsEveryByteOfEveryFrame() throws IOException {
    Path first = frameOf("5");
    Path again = frameOf("5");
    Path other = frameOf("6");
    assertEquals(-1, Files.mismatch(first, again));
    assertTrue(Files.mismatch(first, other) >= 0, "another seed, another frame");
  }

  private Path frameOf(String seed) throws IOException {
    Path sessions = Files.createTempDirectory(directory, "seed");
    Ran ran = Ran.line("bracket --simulate flat --raw --seed " + seed + " --sessions " + sessions);
    assertEquals(0, ran.code(), ran.err());
    try (Stream<Path> files = Files.walk(sessions)) {
      return files.filter(file -> file.endsWith("SCN_0001.DNG")).findFirst().orElseThrow();
    }
  }

  @Test
  void isOpenWhereALimitBinds() throws IOException {
    Ran ran = bracket("--simulate ridge --longest 1/250 --json");
    assertEquals(3, ran.code());
    JsonNode report = last(ran.out());
    assertEquals("limit", report.get("stopped").asText());
    assertTrue(report.get("openBelowStops").asDouble() > 0);
    assertTrue(report.get("why").asText().contains("longer shutter"));
  }

  @Test
  void measuresTheRawWhereItIsAskedTo() throws IOException {
    Ran ran = bracket("--simulate flat --raw --json");
    assertEquals(0, ran.code());
    assertTrue(last(ran.out()).get("frames").get(0).get("file").asText().endsWith(".DNG"));
  }

  /** A simulated camera steps through -2, 0 and +2 by itself, or takes more at one release. */
  @ParameterizedTest
  @CsvSource({
    "flat, 1, 0, covered, 1",
    "ridge, 1, 3, limit, 4",
    "ridge, 3, 3, limit, 3",
    "ridge, 9, 0, covered, 9"
  })
  void bracketsWithACamerasOwnExposure(
      String scene, int framesPerRelease, int code, String stopped, int frames) throws IOException {
    Ran ran =
        bracket(
            "--trigger release-only --json --longest 4s --simulate "
                + scene
                + " --frames-per-release "
                + framesPerRelease);
    assertEquals(code, ran.code(), ran.err());
    JsonNode report = last(ran.out());
    assertEquals(stopped, report.get("stopped").asText());
    assertEquals(frames, report.get("frames").size());
    assertEquals(code == 3, report.get("why").asText().contains("Exposure compensation -"));
  }

  @Test
  void tellsACamerasOwnExposureWhenItsFrameIsHere() {
    String told = bracket("--trigger release-only --simulate ridge").out();
    assertTrue(told.contains("Shot 1: as the camera exposes."), told);
    assertTrue(told.contains("SCN_0001.JPG: 1/60 s, f/8, ISO 100 (EV 12.0), "), told);
  }

  /** The JPEG answers first; what is kept in the end is the raw file's. */
  @ParameterizedTest
  @CsvSource({"--raw, true", "--raw-only, false"})
  void aRawFileReplacesItsJpegsNumbers(String option, boolean jpegFirst) throws IOException {
    Ran ran = bracket("--simulate ridge --json " + option);
    assertEquals(0, ran.code(), ran.err());
    assertEquals(jpegFirst, ran.out().contains("\"type\":\"frame-refined\""));
    for (JsonNode frame : last(ran.out()).get("frames")) {
      assertTrue(frame.get("file").asText().endsWith(".DNG"), frame.toString());
    }
    assertEquals(
        jpegFirst, bracket("--simulate ridge " + option).out().contains("replaces the numbers of"));
  }

  @Test
  void showsAndListsWhatItKept() {
    assertEquals(0, bracket("--simulate flat").code());
    String place = " --sessions " + directory.resolve("sessions");
    Ran list = Ran.line("sessions list" + place);
    assertTrue(list.out().contains("covered"), list.out());
    String name = list.out().split("\\s+")[0];
    Ran show = Ran.line("sessions show " + name + place);
    assertTrue(show.out().contains("SCN_0001.JPG"), show.out());
    Ran resume = Ran.line("sessions resume " + name + place);
    assertEquals(2, resume.code());
    assertTrue(resume.err().contains("is finished"), resume.err());
  }

  @Test
  void inspectsAFrameThatItTook() throws IOException {
    assertEquals(0, bracket("--simulate flat").code());
    Path frame;
    try (Stream<Path> files = Files.walk(directory)) {
      frame = files.filter(file -> file.endsWith("SCN_0001.JPG")).findFirst().orElseThrow();
    }
    Ran ran = Ran.of("inspect", "--json", frame.toString());
    assertEquals(0, ran.code());
    JsonNode node = MAPPER.readTree(ran.out());
    assertEquals(0.02, node.get("shutterSeconds").asDouble());
    assertEquals(11.666667, node.get("ev").asDouble());
    long pixels = node.get("width").asLong() * node.get("height").asLong();
    long counted = 0;
    for (JsonNode count : node.get("histogramStops").get("counts")) {
      counted += count.asLong();
    }
    assertEquals(pixels, counted, "no pixel is lost");
  }
}
