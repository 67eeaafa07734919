package org.scenespan.wire;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.Deviation;
import org.scenespan.plan.guard.Finding;
import org.scenespan.plan.guard.Levels;
import org.scenespan.session.Event;
import org.scenespan.session.TetherSetup;

/** What only a tether has, as JSON and back. */
final class TetherJson {
  private TetherJson() {}

  static void write(ObjectNode node, TetherSetup setup) {
    ObjectNode levels = node.putObject("levels");
    write(levels.putObject("exposureStops"), setup.levels().exposure());
    write(levels.putObject("colour"), setup.levels().colour());
    write(levels.putObject("clipping"), setup.levels().clipping());
    write(levels.putObject("sharpness"), setup.levels().sharpness());
    node.put("firstIsReference", setup.firstIsReference());
    node.put("mostFrames", setup.mostFrames());
    setup.longest().ifPresent(time -> node.put("longestSeconds", time.toMillis() / 1000.0));
  }

  private static void write(ObjectNode node, Levels.Pair pair) {
    node.put("warn", pair.warn());
    node.put("alarm", pair.alarm());
  }

  static TetherSetup setup(JsonNode node) {
    JsonNode levels = Nodes.object(node, "levels");
    return new TetherSetup(
        Nodes.text(node, "session"),
        Nodes.text(node, "program"),
        PartsJson.gear(node),
        new Levels(
            pair(levels, "exposureStops"),
            pair(levels, "colour"),
            pair(levels, "clipping"),
            pair(levels, "sharpness")),
        node.path("firstIsReference").asBoolean(),
        Nodes.integer(node, "mostFrames"),
        Nodes.optionalNumber(node, "longestSeconds")
            .map(seconds -> Duration.ofMillis(Math.round(1000 * seconds))),
        PartsJson.patience(Nodes.object(node, "patience")));
  }

  private static Levels.Pair pair(JsonNode levels, String name) {
    JsonNode pair = Nodes.object(levels, name);
    return new Levels.Pair(Nodes.number(pair, "warn"), Nodes.number(pair, "alarm"));
  }

  static void write(ObjectNode node, Event.FrameWatched event, ObjectMapper mapper) {
    node.put("index", event.index());
    event.deviation().ifPresent(it -> node.set("deviation", tree(it, mapper)));
    node.set("findings", mapper.valueToTree(event.findings()));
    node.set("frame", FrameJson.write(event.frame()));
  }

  private static ObjectNode tree(Deviation deviation, ObjectMapper mapper) {
    ObjectNode tree = mapper.valueToTree(deviation);
    List<String> empty = new ArrayList<>();
    tree.properties()
        .forEach(
            field -> {
              if (field.getValue().isNull()) {
                empty.add(field.getKey());
              }
            });
    return tree.remove(empty);
  }

  static Event.FrameWatched watched(JsonNode node, ObjectMapper mapper)
      throws JsonProcessingException {
    List<Finding> findings = new ArrayList<>();
    for (JsonNode finding : node.path("findings")) {
      findings.add(mapper.treeToValue(finding, Finding.class));
    }
    Optional<Deviation> deviation =
        node.hasNonNull("deviation")
            ? Optional.of(mapper.treeToValue(node.get("deviation"), Deviation.class))
            : Optional.empty();
    return new Event.FrameWatched(
        Nodes.integer(node, "index"),
        FrameJson.read(Nodes.object(node, "frame")),
        deviation,
        findings);
  }
}
