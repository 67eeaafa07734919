package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.FrameChange;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/** What differs between frames as JSON: an object for each earlier frame. */
final class ChangeJson {
  private ChangeJson() {}

  static void write(ArrayNode array, List<FrameChange> changes) {
    for (FrameChange change : changes) {
      ObjectNode node = array.addObject();
      node.put("against", change.against());
      node.put("comparedFraction", change.compared().value());
      node.put("movedFraction", change.moved().value());
      node.put("ratioStops", change.ratio().value());
      change
          .movedLevels()
          .ifPresent(
              levels -> {
                node.put("movedLowStops", levels.low().value());
                node.put("movedHighStops", levels.high().value());
              });
    }
  }

  /**
   * @throws IllegalArgumentException if a field is missing or wrong; the message names it
   */
  static List<FrameChange> read(JsonNode array) {
    List<FrameChange> changes = new ArrayList<>();
    for (JsonNode node : array) {
      Optional<FrameChange.Levels> levels =
          Nodes.optionalNumber(node, "movedLowStops")
              .map(
                  low ->
                      new FrameChange.Levels(
                          new Stops(low), new Stops(Nodes.number(node, "movedHighStops"))));
      changes.add(
          new FrameChange(
              Nodes.text(node, "against"),
              new Share(Nodes.number(node, "comparedFraction")),
              new Share(Nodes.number(node, "movedFraction")),
              new Stops(Nodes.number(node, "ratioStops")),
              levels));
    }
    return changes;
  }
}
