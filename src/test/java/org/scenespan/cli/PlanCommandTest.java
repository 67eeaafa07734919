package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The plan commands as a photographer runs them. */
class PlanCommandTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  @TempDir private Path directory;

  private static JsonNode json(String line) throws IOException {
    Ran ran = Ran.line(line + " --json");
    assertEquals(0, ran.code(), ran.toString());
    assertEquals(1, ran.out().lines().count(), ran.out());
    return JSON.readTree(ran.out());
  }

  private static List<JsonNode> each(JsonNode array) {
    return StreamSupport.stream(array.spliterator(), false).toList();
  }

  /** Atlanta, 2009-09-06: US Naval Observatory. */
  @Test
  void theSunKeepsToTheNavalObservatory() throws IOException {
    JsonNode node = json("plan sun --at 33.8,-84.4 --date 2009-09-06 --zone America/New_York");
    assertEquals("plan", node.get("type").asText());
    assertEquals("crosses", node.get("outcomes").get("sun").asText());
    assertEvent(node, "civil dawn", "2009-09-06T06:50:00-04:00");
    assertEvent(node, "sunrise", "2009-09-06T07:15:00-04:00");
    assertEvent(node, "transit", "2009-09-06T13:36:00-04:00");
    assertEvent(node, "sunset", "2009-09-06T19:56:00-04:00");
    assertEvent(node, "civil dusk", "2009-09-06T20:21:00-04:00");
  }

  private static void assertEvent(JsonNode node, String name, String printed) {
    JsonNode event =
        each(node.get("events")).stream()
            .filter(it -> it.get("event").asText().equals(name))
            .findFirst()
            .orElseThrow();
    OffsetDateTime at = OffsetDateTime.parse(event.get("at").asText());
    Duration apart = Duration.between(OffsetDateTime.parse(printed), at).abs();
    assertTrue(apart.compareTo(Duration.ofMinutes(1)) <= 0, name + " " + at);
    if (name.equals("sunrise")) {
      // 454 lx by incident light, C = 250.
      assertEquals(7.5, event.get("groundEv").asDouble(), 0.05);
      assertEquals(83, event.get("azimuthDegrees").asDouble(), 2);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "2026-06-21, above-all-day, Polar day",
    "2026-12-21, below-all-day, Polar night",
    "2026-04-18, crosses, no darker than civil"
  })
  void polarDaysAreNamed(String date, String outcome, String words) throws IOException {
    String line = "plan sun --at 78.22,15.65 --zone Europe/Oslo --date " + date;
    JsonNode node = json(line);
    assertEquals(outcome, node.get("outcomes").get("sun").asText());
    Ran ran = Ran.line(line);
    assertTrue(ran.out().contains(words), ran.out());
    assertTrue(ran.out().contains("never look at the sun"), ran.out());
    assertTrue(ran.out().contains("ISO 12312-2"), ran.out());
  }

  /** Frames = seconds × rate [practice]: three hours at 5 s are 2160, 90 s at 24. */
  @Test
  void aLapseIsCounted() throws IOException {
    JsonNode node =
        json(
            "plan lapse --at 40,0 --date 2026-03-20 --zone UTC --from 04:00 --to 07:00"
                + " --interval 5s --frame-megabytes 25");
    assertEquals(2160, node.get("frames").asInt());
    assertEquals(90, node.get("clipSeconds").get("at24").asDouble(), 1e-6);
    assertEquals(86.4, node.get("clipSeconds").get("at25").asDouble(), 1e-6);
    assertEquals(72, node.get("clipSeconds").get("at30").asDouble(), 1e-6);
    assertEquals(54, node.get("cardGigabytes").asDouble(), 1e-6);
    assertEquals(6, node.get("charges").asInt());
    assertEquals(3.2, node.get("longestShutterSeconds").asDouble(), 1e-6);
    assertEquals(
        List.of("start", "civil dawn", "sunrise", "end"),
        each(node.get("moments")).stream().map(it -> it.get("moment").asText()).toList());
    assertEquals(1, node.get("warnings").size(), "too dark at the start");
  }

  @Test
  void aLapseOfAnEveningMayEndAfterMidnight() throws IOException {
    JsonNode node =
        json("plan lapse --at 60,10 --date 2026-05-01 --zone +04:00 --evening --interval 20s");
    assertTrue(node.get("to").asText().startsWith("2026-05-02T0"), node.get("to").asText());
    assertEquals("sunset", node.get("moments").get(1).get("moment").asText());
  }

  /** 50 mm f/8 c 0.03 at 3 m: 2.338 to 4.185 m, H 10.467 m [computed]. */
  @Test
  void depthOfField() throws IOException {
    JsonNode node = json("plan depth --focal 50mm --aperture f/8 --distance 3m");
    assertEquals(2.338, node.get("nearMetres").asDouble(), 0.001);
    assertEquals(4.185, node.get("farMetres").asDouble(), 0.001);
    assertEquals(10.467, node.get("hyperfocalMetres").asDouble(), 0.001);
    JsonNode solved = json("plan depth --focal 50mm --near 2.34m --far 4.18m");
    assertEquals(8, solved.get("aperture").asDouble());
    assertEquals(3, solved.get("focusMetres").asDouble(), 0.01);
    assertTrue(json("plan depth --focal 24mm --aperture f/11").get("farMetres").isNull());
  }

  /** 0.5 m/s at 10 m, 24 mm, 5.9 µm (here 6 µm), 1/30 s: 6.8 px [practice]. */
  @Test
  void motion() throws IOException {
    JsonNode node =
        json(
            "plan motion --focal 24mm --sensor 35.4x23.6 --speed 0.5m/s --subject 10m --blur 2"
                + " --shutter 1/30");
    // 1/30 on the engraving is 1/32 s exactly.
    assertEquals(6.8 * 30 / 32, node.get("blurPixels").asDouble(), 0.05);
    assertEquals(2 / 203.4, node.get("longestSeconds").asDouble(), 0.0001);
    assertEquals(0.01, node.get("shutterSeconds").asDouble(), 1e-9);
  }

  /** 14 mm f/2.8, 4.35 µm: 7.74 s full, 16.3 s simple, 35.7 s by the old rule [practice]. */
  @Test
  void stars() throws IOException {
    JsonNode node = json("plan stars --focal 14mm --aperture f/2.8 --columns 8276");
    // f/2.8 is 2.828 exactly: 0.034 s more.
    assertEquals(7.74 + 0.034, node.get("fullSeconds").asDouble(), 0.01);
    assertEquals(16.3 + 0.07, node.get("simpleSeconds").asDouble(), 0.05);
    assertEquals(35.7, node.get("ruleOf500Seconds").asDouble(), 0.05);
  }

  @Test
  void filters() throws IOException {
    JsonNode node = json("plan filter --shutter 1/125 --nd OD3.0");
    assertEquals(9.966, node.get("stops").asDouble(), 0.001);
    assertEquals(1000 / 128.0, node.get("seconds").asDouble(), 0.001);
    assertEquals(7, json("plan filter --shutter 1/60 --wished 2s").get("stops").asDouble(), 1e-6);
  }

  @Test
  void anExposureSaysWhatHasToGive() throws IOException {
    JsonNode node =
        json(
            "plan exposure --ev 9 --focal 24mm --near 0.9m --speed 0.1m/s --subject 5m"
                + " --highest-iso 100");
    assertFalse(node.get("met").asBoolean());
    Set<String> given = new HashSet<>();
    for (JsonNode settings : node.get("settings")) {
      for (JsonNode missed : settings.get("givenUp")) {
        given.add(missed.get("what").asText());
      }
    }
    assertEquals(Set.of("the depth of field", "the frozen subject", "the low noise"), given);
    assertEquals(1, node.get("remedies").size());
  }

  @ParameterizedTest
  @CsvSource({
    "--light sun, 15",
    "--light home-interior, 6",
    "--ev -2.5, -2.5",
    "--sun-altitude -0.833, 7.5",
    "'--at 33.8,-84.4 --date 2009-09-06 --time 07:15 --zone America/New_York', 7.5"
  })
  void theSceneMayBeSaidInManyWays(String scene, double ev) throws IOException {
    JsonNode node = json("plan exposure " + scene);
    assertEquals(ev, node.get("sceneEv").asDouble(), 0.15, scene);
    double set = node.get("settings").get(0).get("exposure").get("ev").asDouble();
    assertEquals(node.get("sceneEv").asDouble(), set, 0.17);
  }

  /** A frame of the bundled flat scene at EV 12: what exposes it as mid grey is EV 12. */
  @Test
  void theSceneMayBeAFrameAlreadyShot() throws IOException {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    Ran bracket =
        Ran.line(
            "bracket --simulate flat --scene-ev 12 --json",
            "--folder",
            frames.toString(),
            "--sessions",
            directory.resolve("sessions").toString());
    assertEquals(0, bracket.code(), bracket.toString());
    Path frame;
    try (var files = Files.list(frames)) {
      frame = files.sorted().findFirst().orElseThrow();
    }
    JsonNode node = json("plan exposure --frame " + frame);
    assertEquals(12, node.get("sceneEv").asDouble(), 0.34);
  }

  @Test
  void aBracketTakesThePlansLimits() throws IOException {
    Path plan = directory.resolve("plan.json");
    String wishes =
        "plan exposure --ev 12 --focal 24mm --near 1.2m --speed 0.05m/s --subject 5m"
            + " --highest-iso 400 --save "
            + plan;
    JsonNode planned = json(wishes);
    assertEquals(planned, JSON.readTree(Files.readString(plan)));
    Ran ran =
        Ran.line(
            "bracket --simulate ridge --json --plan " + plan,
            "--sessions",
            directory.resolve("sessions").toString());
    JsonNode opened = JSON.readTree(ran.out().lines().findFirst().orElseThrow());
    JsonNode limits = planned.get("limits");
    JsonNode picture = opened.get("picture");
    assertEquals(limits.get("aperture").asDouble(), picture.get("aperture").asDouble());
    assertEquals(limits.get("longestSeconds").asDouble(), picture.get("longestSeconds").asDouble());
    assertEquals(400, picture.get("highestIso").asInt());
    assertEquals(limits.get("start"), opened.get("start"));
    List<JsonNode> shots = new ArrayList<>();
    for (String line : ran.out().lines().toList()) {
      JsonNode record = JSON.readTree(line);
      if (record.path("type").asText().equals("report")) {
        record.get("frames").forEach(shots::add);
      }
    }
    assertFalse(shots.isEmpty(), ran.out());
    for (JsonNode shot : shots) {
      assertTrue(
          shot.get("shutterSeconds").asDouble() <= limits.get("longestSeconds").asDouble() * 1.1,
          shot.toString());
    }
  }

  @Test
  void aLapseTakesThePlansLimitsToo() throws IOException {
    Path plan = directory.resolve("plan.json");
    JsonNode limits =
        json("plan exposure --ev 12 --focal 24mm --near 1.2m --speed 0.05m/s --subject 5m"
                + " --highest-iso 400 --save "
                + plan)
            .get("limits");
    Ran ran =
        Ran.line(
            "lapse --simulate sunrise --at 46.5,8.0 --date 2026-06-01 --frames 2 --json"
                + " --highest-iso 800 --plan "
                + plan,
            "--sessions",
            directory.resolve("sessions").toString());
    JsonNode picture = JSON.readTree(ran.out().lines().findFirst().orElseThrow()).get("picture");
    assertEquals(limits.get("aperture").asDouble(), picture.get("aperture").asDouble());
    assertEquals(limits.get("longestSeconds").asDouble(), picture.get("longestSeconds").asDouble());
    assertEquals(800, picture.get("highestIso").asInt(), "the option comes before the plan");
  }

  @Test
  void anOptionComesBeforeThePlan() throws IOException {
    Path plan = directory.resolve("plan.json");
    json("plan exposure --ev 12 --focal 24mm --near 1.2m --save " + plan);
    Ran ran =
        Ran.line(
            "bracket --simulate flat --json --aperture f/5.6 --plan " + plan,
            "--sessions",
            directory.resolve("sessions").toString());
    assertEquals(0, ran.code(), ran.toString());
    JsonNode opened = JSON.readTree(ran.out().lines().findFirst().orElseThrow());
    assertEquals(5.6, opened.get("picture").get("aperture").asDouble());
  }
}
