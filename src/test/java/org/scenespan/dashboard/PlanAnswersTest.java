package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.plan.settings.PlannedLimits;
import org.scenespan.wire.PlanJson;

/** The page on planning asks, and gets what the command line would say. */
class PlanAnswersTest extends OpenDashboard {
  private HttpResponse<String> ask(String question) throws Exception {
    return client.send(
        HttpRequest.newBuilder(URI.create(at("api/plan?" + question))).build(),
        BodyHandlers.ofString());
  }

  @Test
  void answersWithAPlan() throws Exception {
    HttpResponse<String> answer = ask("ev=9&focal=24&near=0.9&speed=0.1&subject=5&highest-iso=100");
    assertEquals(200, answer.statusCode(), answer.body());
    JsonNode plan = new ObjectMapper().readTree(answer.body());
    assertEquals("exposure", plan.get("kind").asText());
    assertEquals(false, plan.get("met").asBoolean());
    assertTrue(plan.get("settings").size() >= 3, answer.body());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "ev=12 | true",
        "ev=15&water=silky | false",
        "ev=15&water=silky&filter-stops=6 | true",
        "ev=-6&stars=1&focal=14&highest-iso=800 | false",
        "ev=12&hand-held=1 | true",
        "ev=12&focal=24&near=1.2&diffraction=1 | true",
        "ev=14&water=silky&filter-stops=3&diffraction=1 | false"
      })
  void everyWishIsHeard(String question, boolean met) throws Exception {
    HttpResponse<String> answer = ask(question);
    assertEquals(200, answer.statusCode(), answer.body());
    assertEquals(met, new ObjectMapper().readTree(answer.body()).get("met").asBoolean());
  }

  /** What the page saves is what bracket and lapse take, of whichever of the settings. */
  @Test
  void makesTheLimitsOfTheChosenSettings() throws Exception {
    String wishes = "ev=9&focal=24&near=0.9&speed=0.1&subject=5&highest-iso=100";
    JsonNode plan = new ObjectMapper().readTree(ask(wishes).body());
    assertTrue(plan.get("settings").size() >= 2, plan.toString());
    for (int number = 1; number <= plan.get("settings").size(); number++) {
      PlannedLimits limits = PlanJson.limits(ask(wishes + "&choose=" + number).body());
      JsonNode chosen = plan.get("settings").get(number - 1).get("exposure");
      assertEquals(chosen.get("ev").asDouble(), limits.start().ev().value(), 1e-4);
    }
    assertEquals(400, ask(wishes + "&choose=99").statusCode());
  }

  @ParameterizedTest
  @CsvSource({
    "focal=24, ev is missing",
    "ev=bright, ev",
    "ev=NaN, EV (NaN)",
    "ev=12&near=-1, near",
    "ev=12&water=wine, water",
    "ev=12&filter-stops=31, neutral density (31.0",
    "ev=1111111111111111111111111111111111111111111, ev is too long"
  })
  void refusesWhatItCannotRead(String question, String told) throws Exception {
    HttpResponse<String> answer = ask(question);
    assertEquals(400, answer.statusCode(), answer.body());
    assertTrue(answer.body().contains(told), answer.body());
  }
}
