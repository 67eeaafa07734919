package org.scenespan.fuzz;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ContainerNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.SplittableRandom;

/**
 * JSON that stays JSON: fields missing, of another type, in another's place, with edge values. One
 * document, or one a line; lines may be missing, twice or out of order, and are then numbered anew.
 */
final class JsonShape implements Shape {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  private static final List<String> VALUES =
      List.of(
          "null",
          "true",
          "0",
          "-1",
          "1e308",
          "-1e308",
          "1e-320",
          "9223372036854775807",
          "123456789012345678901234567890",
          "0.1",
          "\"\"",
          "\"NaN\"",
          "\"-1\"",
          "\"\\u0000\"",
          "[]",
          "{}",
          "[[[[[[[[]]]]]]]]",
          "\"9999-12-31T23:59:59.999999999Z\"");

  private final boolean isLines;

  /**
   * @param isLines whether each line is a document
   */
  JsonShape(boolean isLines) {
    this.isLines = isLines;
  }

  @Override
  public byte[] changed(byte[] bytes, SplittableRandom random, List<byte[]> seeds) {
    String text = new String(bytes, StandardCharsets.UTF_8);
    return (isLines ? linesChanged(text, random) : documentChanged(text, random))
        .getBytes(StandardCharsets.UTF_8);
  }

  private static String linesChanged(String text, SplittableRandom random) {
    List<String> lines = new ArrayList<>(Arrays.asList(text.split("\n", -1)));
    int at = random.nextInt(lines.size());
    int kind = random.nextInt(6);
    if (kind < 3) {
      lines.set(at, documentChanged(lines.get(at), random));
      return String.join("\n", lines) + "\n";
    }
    switch (kind) {
      case 3 -> lines.remove(at);
      case 4 -> lines.add(random.nextInt(lines.size()), lines.get(at));
      default -> Collections.swap(lines, at, random.nextInt(lines.size()));
    }
    for (int i = 0; i < lines.size(); i++) {
      lines.set(i, lines.get(i).replaceFirst("\"seq\":\\d+", "\"seq\":" + (i + 1)));
    }
    return String.join("\n", lines) + "\n";
  }

  private static String documentChanged(String text, SplittableRandom random) {
    try {
      JsonNode document = MAPPER.readTree(text);
      List<ContainerNode<?>> containers = new ArrayList<>();
      List<JsonNode> all = new ArrayList<>();
      collect(document, containers, all);
      if (containers.isEmpty()) {
        return text;
      }
      change(containers.get(random.nextInt(containers.size())), all, random);
      return document.toString();
    } catch (JsonProcessingException damaged) {
      return text;
    }
  }

  private static void collect(
      JsonNode node, List<ContainerNode<?>> containers, List<JsonNode> all) {
    all.add(node);
    if (node instanceof ContainerNode<?> container && !container.isEmpty()) {
      containers.add(container);
    }
    node.forEach(child -> collect(child, containers, all));
  }

  private static void change(
      ContainerNode<?> container, List<JsonNode> all, SplittableRandom random)
      throws JsonProcessingException {
    JsonNode other =
        random.nextBoolean()
            ? MAPPER.readTree(VALUES.get(random.nextInt(VALUES.size())))
            : all.get(random.nextInt(all.size())).deepCopy();
    int at = random.nextInt(container.size());
    if (container instanceof ObjectNode object) {
      List<String> names = new ArrayList<>();
      object.fieldNames().forEachRemaining(names::add);
      String name = names.get(at);
      switch (random.nextInt(4)) {
        case 0 -> object.remove(name);
        case 1 -> object.set(names.get(random.nextInt(names.size())), object.get(name).deepCopy());
        default -> object.set(name, other);
      }
    } else if (container instanceof ArrayNode array) {
      switch (random.nextInt(4)) {
        case 0 -> array.remove(at);
        case 1 -> array.insert(at, array.get(random.nextInt(array.size())).deepCopy());
        default -> array.set(at, other);
      }
    }
  }
}
