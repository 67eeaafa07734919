package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import org.scenespan.light.Stops;
import org.scenespan.session.Event;

/** A frame of the check of a rig as JSON and back. */
final class RigJson {
  private RigJson() {}

  static void write(ObjectNode node, Event.RigShotFramed event) {
    node.put("shot", event.shot());
    node.put("seconds", event.seconds());
    event.brightness().ifPresent(it -> node.put("brightnessStops", Scalars.tidy(it.value())));
    SteadinessJson.write(node, event.steadiness());
    node.set("frame", FrameJson.write(event.frame()));
  }

  static Event.RigShotFramed read(JsonNode node) {
    return new Event.RigShotFramed(
        Nodes.integer(node, "shot"),
        Nodes.number(node, "seconds"),
        Nodes.optionalNumber(node, "brightnessStops").map(Stops::new),
        SteadinessJson.read(node),
        FrameJson.read(Nodes.object(node, "frame")));
  }
}
