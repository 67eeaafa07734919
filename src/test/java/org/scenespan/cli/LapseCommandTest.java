package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A lapse from the command line, in virtual time. */
class LapseCommandTest {
  @TempDir private Path directory;

  private Ran run(String... words) {
    List<String> all = new ArrayList<>(List.of("lapse"));
    all.addAll(List.of(words));
    all.addAll(List.of("--sessions", directory.toString()));
    return Ran.of(all.toArray(String[]::new));
  }

  private static JsonNode report(Ran ran) throws IOException {
    String[] lines = ran.out().strip().split("\\R");
    return new ObjectMapper().readTree(lines[lines.length - 1]);
  }

  @Test
  void followsASimulatedSunrise() throws IOException {
    Ran ran =
        run(
            "--simulate",
            "sunrise",
            "--at",
            "46.5,8.0",
            "--date",
            "2026-06-01",
            "--from",
            "05:00",
            "--zone",
            "+02:00",
            "--interval",
            "60s",
            "--frames",
            "40",
            "--json");
    assertEquals(0, ran.code(), ran.err());
    JsonNode report = report(ran);
    assertEquals("report", report.get("type").asText());
    assertEquals("lapse", report.get("kind").asText());
    assertEquals(40, report.get("frames").size());
    assertEquals(0, report.get("framesLost").asInt());
    JsonNode first = report.get("frames").get(0);
    JsonNode last = report.get("frames").get(39);
    assertEquals(2340, last.get("seconds").asDouble());
    assertTrue(last.get("ev").asDouble() > first.get("ev").asDouble() + 3, "the light came");
    assertEquals(2.8, last.get("aperture").asDouble());
    assertEquals("SCN_0040.JPG", last.get("file").asText());
    assertTrue(last.has("wishStops") && last.has("gainStops") && last.has("errorStops"));
    assertTrue(report.get("evenedSigmaStops").asDouble() < 0.005, report.toString());
  }

  @Test
  void followsATableOfLight() throws IOException {
    Path csv = directory.resolve("light.csv");
    Files.writeString(csv, "seconds,ev\n0,5\n300,5.3\n");
    Ran ran =
        run(
            "--simulate",
            csv.toString(),
            "--interval",
            "10s",
            "--bulb",
            "--region",
            "land",
            "--wish=0:0",
            "--json");
    assertEquals(0, ran.code(), ran.err());
    JsonNode report = report(ran);
    assertEquals(30, report.get("frames").size());
    assertTrue(Math.abs(report.get("frames").get(29).get("errorStops").asDouble()) < 0.15);
  }

  @Test
  void tellsItInWords() {
    Ran ran =
        run("--simulate", "sunrise", "--at", "46.5,8.0", "--date", "2026-06-01", "--frames", "3");
    assertTrue(ran.out().contains("Never look at the sun"), ran.out());
    assertTrue(ran.out().contains("Unattended gear needs permission"), ran.out());
    assertTrue(ran.out().contains("Done, 3 frames, 0 lost"), ran.out());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "--simulate sunrise --at 46.5,8.0 --frames 3 | needs --at and --date",
        "--simulate no-such.csv | neither sunrise nor sunset",
        "--simulate sunrise --at 80,0 --date 2026-06-21 | no nautical dawn",
        "--frames 3 | give --port and --folder",
        "--simulate sunrise --at 46.5,8.0 --date 2026-06-01 --frames 3 --for 1h | give one of",
        "--simulate sunrise --at 46.5,8.0 --date 2026-06-01 --frames 0 | frames (0)",
        "--simulate sunrise --at 46.5,8.0 --date 2026-06-01 --frames 3 --interval 0s | interval",
        "--simulate sunrise --at 46.5,8.0 --date 2026-06-01 --frames 3 --gap 10s | gap",
        "--simulate sunrise --at 46.5,8.0 --date 2026-06-01 --frames 3 --region sea | no region",
        "--simulate sunrise --at 46.5,8.0 --date 2026-06-01 --frames 3 --wish x | point of a wish",
        "--simulate sunrise --at 46.5,8.0 --date 2026-06-01 --trigger release-only | only releases",
        "--date 2026-06-01 --frames 3 | are for --simulate",
      })
  void saysWhatIsWrong(String words, String reason) throws IOException {
    Ran ran = run(words.strip().split(" "));
    assertEquals(2, ran.code(), ran.out());
    assertTrue(ran.err().contains(reason), ran.err());
    assertEquals(1, ran.err().strip().lines().count(), ran.err());
    assertTrue(Files.notExists(directory) || Files.list(directory).findAny().isEmpty());
  }
}
