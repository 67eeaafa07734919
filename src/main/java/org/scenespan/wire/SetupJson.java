package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Setup;

/** A setup of any kind as the fields of its {@code session-opened} record, and back. */
final class SetupJson {
  private SetupJson() {}

  static void write(ObjectNode node, Setup setup, ObjectMapper mapper) {
    node.put("kind", setup.kind());
    node.put("session", setup.session());
    node.put("program", setup.program());
    PartsJson.write(node, setup.gear());
    if (setup instanceof BracketSetup bracket) {
      BracketSetupJson.write(node, bracket, mapper);
    } else {
      throw new IllegalArgumentException("no form for a " + setup.kind());
    }
    PartsJson.write(node.putObject("patience"), setup.patience());
  }

  static Setup read(JsonNode node, ObjectMapper mapper) {
    String kind = Nodes.text(node, "kind");
    return switch (kind) {
      case "bracket" -> BracketSetupJson.read(node, mapper);
      default -> throw new IllegalArgumentException("unknown kind \"" + kind + "\"");
    };
  }
}
