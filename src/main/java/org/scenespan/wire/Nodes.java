package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Optional;

/** Fields of a JSON object that must be there; a missing or wrong one is named. */
final class Nodes {
  private Nodes() {}

  static JsonNode object(JsonNode parent, String field) {
    JsonNode node = parent.path(field);
    if (!node.isObject()) {
      throw new IllegalArgumentException("field " + field + " must be an object");
    }
    return node;
  }

  static double number(JsonNode parent, String field) {
    JsonNode node = parent.path(field);
    if (!node.isNumber()) {
      throw new IllegalArgumentException("field " + field + " must be a number");
    }
    return node.doubleValue();
  }

  static int integer(JsonNode parent, String field) {
    JsonNode node = parent.path(field);
    if (!node.canConvertToInt() || !node.isIntegralNumber()) {
      throw new IllegalArgumentException("field " + field + " must be a whole number");
    }
    return node.intValue();
  }

  static String text(JsonNode parent, String field) {
    JsonNode node = parent.path(field);
    if (!node.isTextual()) {
      throw new IllegalArgumentException("field " + field + " must be a text");
    }
    return node.textValue();
  }

  static Optional<Double> optionalNumber(JsonNode parent, String field) {
    return parent.hasNonNull(field) ? Optional.of(number(parent, field)) : Optional.empty();
  }

  static Optional<String> optionalText(JsonNode parent, String field) {
    return parent.hasNonNull(field) ? Optional.of(text(parent, field)) : Optional.empty();
  }
}
