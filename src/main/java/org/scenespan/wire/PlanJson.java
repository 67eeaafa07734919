package org.scenespan.wire;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import org.scenespan.light.Distance;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.plan.settings.PlannedLimits;
import org.scenespan.plan.settings.Settings;
import org.scenespan.plan.settings.SettingsPlan;

/** A plan of settings as one line of JSON; its limits are read back by a session's command. */
public final class PlanJson {
  private static final ObjectMapper MAPPER =
      JsonMapper.builder()
          .addModule(Scalars.module())
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  private PlanJson() {}

  /** A plan's object with its kind: {@code exposure}, {@code sun}, … */
  public static ObjectNode object(String kind) {
    return MAPPER.createObjectNode().put("type", "plan").put("kind", kind);
  }

  /** A number with six decimals; nothing for what is infinite. */
  public static void put(ObjectNode node, String field, double value) {
    if (Double.isFinite(value)) {
      node.put(field, Scalars.tidy(value));
    } else {
      node.putNull(field);
    }
  }

  /** A distance in metres; nothing for infinity. */
  public static void put(ObjectNode node, String field, Distance distance) {
    put(node, field, distance.metres());
  }

  public static void put(ObjectNode node, String field, Exposure exposure) {
    node.set(field, MAPPER.valueToTree(exposure));
  }

  /** What {@code plan exposure} answers. */
  public static ObjectNode exposure(
      SettingsPlan plan, List<Settings> ranked, PlannedLimits limits, String lightSource) {
    ObjectNode node = object("exposure");
    put(node, "sceneEv", plan.scene().value());
    node.put("light", lightSource);
    put(node, "filterStops", plan.filter().stops());
    node.put("met", ranked.get(0).meetsAll());
    ArrayNode settings = node.putArray("settings");
    for (Settings it : ranked) {
      ObjectNode one = settings.addObject();
      put(one, "exposure", it.exposure());
      put(one, "brighterStops", it.brighter().value());
      put(one, "givenUpStops", it.total().value());
      ArrayNode givenUp = one.putArray("givenUp");
      for (Settings.GivenUp missed : it.givenUp()) {
        ObjectNode what = givenUp.addObject().put("what", missed.what());
        put(what, "stops", missed.stops().value());
      }
      one.put("words", it.words());
    }
    ArrayNode remedies = node.putArray("remedies");
    plan.remedies().forEach(remedies::add);
    node.set("limits", limits(limits));
    return node;
  }

  private static ObjectNode limits(PlannedLimits limits) {
    ObjectNode node = MAPPER.createObjectNode();
    node.put("aperture", Scalars.tidy(limits.start().aperture().nominalNumber()));
    limits.longest().ifPresent(it -> node.put("longestSeconds", it.seconds()));
    node.put("highestIso", Scalars.tidy(limits.highestIso().nominalSpeed()));
    put(node, "start", limits.start());
    return node;
  }

  /**
   * The limits in what {@code plan exposure --json} wrote.
   *
   * @throws IllegalArgumentException in one line that names the field, if the text is no such plan
   */
  public static PlannedLimits limits(String text) {
    try {
      JsonNode root = MAPPER.readTree(text);
      if (!"plan".equals(root.path("type").asText())
          || !"exposure".equals(root.path("kind").asText())) {
        throw new IllegalArgumentException("is not what scenespan plan exposure --json writes");
      }
      JsonNode limits = Nodes.object(root, "limits");
      return new PlannedLimits(
          MAPPER.convertValue(Nodes.object(limits, "start"), Exposure.class),
          Nodes.optionalNumber(limits, "longestSeconds").map(Shutter::new),
          Iso.ofNominal(Nodes.number(limits, "highestIso")));
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("is not JSON: " + e.getOriginalMessage(), e);
    }
  }
}
