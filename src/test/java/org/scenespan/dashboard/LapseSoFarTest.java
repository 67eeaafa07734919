package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.scenespan.session.Event;
import org.scenespan.sky.Horizon;
import org.scenespan.sky.Place;
import org.scenespan.sky.SunDay;

/** A lapse in short, and what is to come of it. */
class LapseSoFarTest {
  private static final JsonMapper MAPPER = JsonMapper.builder().build();

  private static JsonNode read(Optional<String> told) throws Exception {
    return MAPPER.readTree(told.orElseThrow());
  }

  private static List<JsonNode> ofType(JsonNode told, String type) {
    List<JsonNode> found = new ArrayList<>();
    told.get("records").forEach(each -> found.add(each));
    found.removeIf(each -> !each.get("type").asText().equals(type));
    return found;
  }

  @Test
  void nothingIsToldBeforeTheSessionIsOpened() {
    assertEquals(Optional.empty(), new LapseSoFar().json(Instant.EPOCH));
  }

  @Test
  void aShortLapseIsToldWhole() throws Exception {
    SampleLapse lapse = new SampleLapse(60, Duration.ofSeconds(10));
    lapse.take(5);
    JsonNode told = read(lapse.soFar());
    assertEquals(lapse.size(), told.get("seq").asInt());
    assertEquals(5, ofType(told, "shot-ramped").size());
    assertEquals(5, ofType(told, "frame-matched").size());
    assertEquals(0, ofType(told, "lapse-so-far").get(0).get("shots").asInt());
    assertEquals(0, ofType(told, "lapse-so-far").get(0).get("course").get("place").size());
    assertFalse(ofType(told, "frame-matched").get(0).get("frame").has("channelHistogramsStops"));
    double before = 0;
    for (JsonNode record : told.get("records")) {
      assertTrue(record.get("seq").asDouble() > before, "in order: " + record);
      before = record.get("seq").asDouble();
    }
  }

  @Test
  void tenThousandFramesAreToldInNoMoreThanAThousand() throws Exception {
    SampleLapse lapse = new SampleLapse(12_000, Duration.ofSeconds(2));
    lapse.takeQuickly(940);
    int before = lapse.soFar().orElseThrow().length();
    for (int i = 0; i < 60; i++) {
      lapse.shoot();
      lapse.lose();
      lapse.record(new Event.PlacesSkipped(1, 1, "held"));
    }
    lapse.takeQuickly(9_000);
    String text = lapse.soFar().orElseThrow();
    assertTrue(text.length() < 300_000, text.length() + " characters");
    assertTrue(text.length() < 1.5 * before, before + " and then " + text.length());
    JsonNode account = ofType(MAPPER.readTree(text), "lapse-so-far").get(0);
    int points = account.get("course").get("place").size();
    assertTrue(points > 1_000 && points <= LapsePoints.MOST_POINTS, points + " points");
    for (String column : List.of("light", "set", "wanted")) {
      assertEquals(points, account.get("course").get(column).size(), column);
    }
    assertEquals(10_000 - LapseSoFar.MOST_SHOTS, account.get("shots").asInt());
    assertEquals(60, account.get("lost").asInt());
    assertEquals(10_000 - LapseSoFar.MOST_SHOTS - 60, account.get("framed").asInt());
    assertEquals(60, ofType(MAPPER.readTree(text), "places-skipped").size());
  }

  @Test
  void whatTellsOfTheWholeIsKeptHoweverMuchComes() throws Exception {
    SampleLapse lapse = new SampleLapse(600, Duration.ofSeconds(10));
    lapse.take(1);
    lapse.record(new Event.PlacesSkipped(2, 4, "held"));
    for (int i = 0; i < LapseSoFar.MOST_TOLD; i++) {
      lapse.record(new Event.AlarmRaised("blind", "No frame has come " + i, Optional.empty()));
    }
    lapse.end();
    JsonNode told = read(lapse.soFar());
    assertEquals(1, ofType(told, "session-opened").size());
    assertEquals(1, ofType(told, "lapse-began").size());
    assertEquals(LapseSoFar.MOST_TOLD, ofType(told, "alarm-raised").size());
    assertEquals(3, ofType(told, "lapse-so-far").get(0).get("skipped").asInt());
    assertEquals(1, ofType(told, "report").size());
    assertFalse(ofType(told, "report").get(0).has("frames"));
  }

  @Test
  void thinningKeepsEveryPeakAndTheNewest() {
    float[] light = new float[5_000];
    float[] set = new float[5_000];
    for (int i = 0; i < light.length; i++) {
      light[i] = i % 7 == 3 ? Float.NaN : i / 1_000f;
      set[i] = i / 1_000f;
    }
    light[1_234] = 19;
    light[2_345] = -9;
    set[3_456] = 12;
    BitSet kept = Thinning.kept(5_000, 1_500, 400, light, set);
    assertTrue(kept.cardinality() <= 1_500, kept.cardinality() + " places");
    assertTrue(kept.get(1_234) && kept.get(2_345) && kept.get(3_456));
    assertEquals(5_000, kept.nextClearBit(4_600));
    assertEquals(1_500, Thinning.kept(1_500, 1_500, 400, light, set).cardinality());
  }

  @Test
  void whatIsToComeReachesToTheEndWhereThePlaceIsKnown() throws Exception {
    SampleLapse lapse = new SampleLapse(720, Duration.ofSeconds(10));
    lapse.take(30);
    JsonNode told = read(lapse.ahead());
    JsonNode seconds = told.get("coming").get("seconds");
    assertEquals(300, seconds.get(0).asDouble());
    assertTrue(seconds.size() <= 240, seconds.size() + " points");
    assertTrue(seconds.get(seconds.size() - 1).asDouble() > 7_100);
    JsonNode light = told.get("coming").get("light");
    double risen = light.get(light.size() - 1).asDouble() - light.get(0).asDouble();
    assertTrue(risen > 10, "two hours of dawn are " + risen + " stops");
    double now = lapse.state().lapse().shots().get(29).shot().exposure().ev().value();
    double change = told.get("change").get("ev").asDouble() - now;
    assertEquals(1 / 3.0, change, 0.01, "the next change of a rising light is a third darker");
    assertTrue(told.get("change").get("seconds").asDouble() < 600);
  }

  /** Sunrise there: 03:33 UTC by the Solar Position Algorithm, civil dawn 02:57. */
  @Test
  void theSunIsToldOverTheLapse() throws Exception {
    SampleLapse lapse = new SampleLapse(720, Duration.ofSeconds(10));
    lapse.take(1);
    JsonNode sun = read(lapse.ahead()).get("sun");
    assertEquals(181, sun.get("altitude").size());
    assertTrue(sun.get("altitude").get(0).asDouble() < -6);
    assertTrue(sun.get("altitude").get(180).asDouble() > 0);
    double rise = -1;
    for (JsonNode each : sun.get("crossings")) {
      boolean ours = each.get("horizon").asText().equals("rise-and-set");
      if (ours && each.get("rising").asBoolean() && rise < 0) {
        rise = each.get("seconds").asDouble();
      }
    }
    Instant told = SampleLapse.START.plusSeconds(Math.round(rise));
    Instant day = Instant.parse("2026-06-01T00:00:00Z");
    double minutes = Duration.between(day, told).toSeconds() / 60.0;
    assertEquals(
        SunDay.of(new Place(46.5, 8.0), LocalDate.of(2026, 6, 1), ZoneOffset.ofHours(1))
            .rising(Horizon.RISE_AND_SET)
            .map(it -> Duration.between(day, it).toSeconds() / 60.0)
            .orElseThrow(),
        minutes,
        0.05);
  }

  @Test
  void nothingIsToComeOnceItHasEnded() throws Exception {
    SampleLapse lapse = new SampleLapse(720, Duration.ofSeconds(10));
    lapse.take(2);
    lapse.end();
    JsonNode told = read(lapse.ahead());
    assertEquals(0, told.get("coming").get("seconds").size());
    assertFalse(told.has("change"));
  }
}
