package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Optional;
import org.scenespan.frame.Detail;
import org.scenespan.frame.Steadiness;

/** Whether a lapse's camera and lens are as they were, as JSON and back. */
final class SteadinessJson {
  private SteadinessJson() {}

  static void write(ObjectNode node, Steadiness steadiness) {
    steadiness
        .detail()
        .ifPresent(
            it ->
                node.putObject("detail")
                    .put("fine", Scalars.tidy(it.fine()))
                    .put("coarse", Scalars.tidy(it.coarse())));
    steadiness
        .shift()
        .ifPresent(
            it ->
                node.putObject("shift")
                    .put("right", Scalars.tidy(it.right()))
                    .put("down", Scalars.tidy(it.down())));
  }

  static Steadiness read(JsonNode node) {
    return new Steadiness(
        node.hasNonNull("detail") ? Optional.of(detail(node.get("detail"))) : Optional.empty(),
        node.hasNonNull("shift") ? Optional.of(shift(node.get("shift"))) : Optional.empty());
  }

  private static Detail detail(JsonNode node) {
    return new Detail(Nodes.number(node, "fine"), Nodes.number(node, "coarse"));
  }

  private static Steadiness.Shift shift(JsonNode node) {
    return new Steadiness.Shift(Nodes.number(node, "right"), Nodes.number(node, "down"));
  }
}
