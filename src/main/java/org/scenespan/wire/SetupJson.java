package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.Setup;
import org.scenespan.session.TetherSetup;

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
    } else if (setup instanceof TetherSetup tether) {
      TetherJson.write(node, tether);
    } else if (setup instanceof LapseSetup lapse) {
      LapseJson.write(node, lapse);
    } else {
      throw new IllegalArgumentException("no form for a " + setup.kind());
    }
    PartsJson.write(node.putObject("patience"), setup.patience());
  }

  static Setup read(JsonNode node, ObjectMapper mapper) {
    String kind = Nodes.text(node, "kind");
    return switch (kind) {
      case "bracket" -> BracketSetupJson.read(node, mapper);
      case "tether" -> TetherJson.setup(node);
      case "lapse" -> LapseJson.setup(node);
      default -> throw new IllegalArgumentException("unknown kind \"" + kind + "\"");
    };
  }
}
