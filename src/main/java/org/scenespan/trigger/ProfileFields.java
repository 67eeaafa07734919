package org.scenespan.trigger;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeType;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.PatternSyntaxException;

/** One object of a profile's JSON, which reads its fields and names the one that is wrong. */
final class ProfileFields {
  /** The longest text of a profile, in characters. */
  static final int MAX_TEXT_LENGTH = 500;

  /** The longest command template, in characters, so that a line fits any device's buffer. */
  static final int MAX_SEND_LENGTH = 200;

  private final String source;
  private final String path;
  private final JsonNode object;

  private ProfileFields(String source, String path, JsonNode object) {
    this.source = source;
    this.path = path;
    this.object = object;
  }

  /**
   * The whole profile.
   *
   * @param source what to call it in an error
   */
  static ProfileFields root(String source, JsonNode object, Set<String> known) {
    if (!object.isObject()) {
      throw new IllegalArgumentException("profile \"" + source + "\": must be one JSON object");
    }
    ProfileFields fields = new ProfileFields(source, "", object);
    fields.refuseUnknown(known);
    return fields;
  }

  private void refuseUnknown(Set<String> known) {
    for (Iterator<String> names = object.fieldNames(); names.hasNext(); ) {
      String name = names.next();
      if (!known.contains(name)) {
        throw wrong(name, "is not a field; known here: " + String.join(", ", new TreeSet<>(known)));
      }
    }
  }

  boolean has(String name) {
    return object.has(name);
  }

  boolean isText(String name) {
    return has(name) && object.get(name).isTextual();
  }

  ProfileFields child(String name, Set<String> known) {
    JsonNode node = require(name, "an object");
    if (!node.isObject()) {
      throw mustBe(name, node, "an object");
    }
    ProfileFields fields = new ProfileFields(source, path + name + ".", node);
    fields.refuseUnknown(known);
    return fields;
  }

  Optional<ProfileFields> optionalChild(String name, Set<String> known) {
    return has(name) ? Optional.of(child(name, known)) : Optional.empty();
  }

  int integer(String name, int least, int most) {
    String expected = least + " to " + most;
    JsonNode node = require(name, expected);
    if (!(node.isIntegralNumber()
        && node.canConvertToInt()
        && node.intValue() >= least
        && node.intValue() <= most)) {
      throw mustBe(name, node, expected);
    }
    return node.intValue();
  }

  int integer(String name, int least, int most, int otherwise) {
    return has(name) ? integer(name, least, most) : otherwise;
  }

  double number(String name, double least, double most) {
    String expected = plain(least) + " to " + plain(most);
    JsonNode node = require(name, expected);
    if (!(node.isNumber() && node.doubleValue() >= least && node.doubleValue() <= most)) {
      throw mustBe(name, node, expected);
    }
    return node.doubleValue();
  }

  boolean flag(String name) {
    if (!has(name)) {
      return false;
    }
    JsonNode node = object.get(name);
    if (!node.isBoolean()) {
      throw mustBe(name, node, "true or false");
    }
    return node.booleanValue();
  }

  String text(String name, int maxLength) {
    String expected = "a text of 1 to " + maxLength + " characters";
    JsonNode node = require(name, expected);
    if (!(node.isTextual() && !node.textValue().isBlank())
        || node.textValue().length() > maxLength) {
      throw mustBe(name, node, expected);
    }
    return node.textValue();
  }

  <T> T choice(String name, Map<String, T> choices) {
    String expected = String.join(" or ", new TreeMap<>(choices).keySet());
    JsonNode node = require(name, expected);
    T chosen = node.isTextual() ? choices.get(node.textValue()) : null;
    if (chosen == null) {
      throw mustBe(name, node, expected);
    }
    return chosen;
  }

  <T> T choice(String name, Map<String, T> choices, T otherwise) {
    return has(name) ? choice(name, choices) : otherwise;
  }

  /** A list of objects; none if there is no such field. */
  List<ProfileFields> children(String name, int most, Set<String> known) {
    if (!has(name)) {
      return List.of();
    }
    JsonNode node = object.get(name);
    if (!node.isArray() || node.size() > most) {
      throw mustBe(name, node, "a list of at most " + most + " objects");
    }
    List<ProfileFields> fields = new ArrayList<>();
    for (int i = 0; i < node.size(); i++) {
      String item = name + "[" + i + "]";
      if (!node.get(i).isObject()) {
        throw mustBe(item, node.get(i), "an object");
      }
      ProfileFields child = new ProfileFields(source, path + item + ".", node.get(i));
      child.refuseUnknown(known);
      fields.add(child);
    }
    return fields;
  }

  /**
   * A command to send: printable ASCII on one line, or bytes in hexadecimal, with known parameters
   * only.
   */
  String template(String name, Set<String> parameters, Profile.Form form) {
    String template = text(name, MAX_SEND_LENGTH);
    if (!template.chars().allMatch(c -> c >= ' ' && c <= '~')) {
      throw wrong(name, "must be printable ASCII without a line end; the terminator is added");
    }
    for (String parameter : Template.parametersOf(template)) {
      if (!parameters.contains(parameter)) {
        String known = parameters.isEmpty() ? "none" : String.join(", ", new TreeSet<>(parameters));
        throw wrong(name, "uses {" + parameter + "}; known here: " + known);
      }
    }
    requireForm(name, template, form);
    return template;
  }

  private void requireForm(String name, String template, Profile.Form form) {
    boolean hex = form == Profile.Form.HEX;
    Template.widthsOf(template)
        .forEach(
            (parameter, width) -> {
              if (hex != width > 0) {
                throw wrong(
                    name,
                    hex
                        ? "must say how many bytes {"
                            + parameter
                            + "} takes, 1 to 8, as in {shot:2}"
                        : "gives {" + parameter + "} a number of bytes; that is for line.form hex");
              }
            });
    String rest = Template.withoutParameters(template).replace(" ", "");
    if (hex && !rest.matches("([0-9A-Fa-f]{2})*")) {
      throw wrong(name, "must be bytes in pairs of hexadecimal digits, as in A5 01 {shot:2}");
    }
  }

  /** A reply's pattern, which must have the group if one is named. */
  ReplyPattern pattern(String name, Optional<String> group) {
    String regex = text(name, MAX_TEXT_LENGTH);
    ReplyPattern pattern;
    try {
      pattern = ReplyPattern.of(regex);
    } catch (PatternSyntaxException e) {
      throw wrong(name, "is not a regular expression: " + e.getDescription());
    }
    if (group.isPresent() && !pattern.groups().contains(group.get())) {
      throw wrong(name, "must capture the group (?<" + group.get() + ">…)");
    }
    return pattern;
  }

  /** The error that a field is wrong, to throw. */
  IllegalArgumentException wrong(String name, String what) {
    // A field's name and a pattern's fault hold what the file's author put there.
    String told = (path + name + " " + what).replaceAll("\\p{Cntrl}|\u0085|\u2028|\u2029", "?");
    return new IllegalArgumentException("profile \"" + source + "\": " + told);
  }

  private IllegalArgumentException mustBe(String name, JsonNode value, String expected) {
    String shown = value.getNodeType() == JsonNodeType.OBJECT ? "an object" : value.toString();
    return wrong(name, "(" + clipped(shown) + ") must be " + expected);
  }

  private JsonNode require(String name, String expected) {
    JsonNode node = object.get(name);
    if (node == null) {
      throw wrong(name, "is missing; it must be " + expected);
    }
    return node;
  }

  private static String clipped(String text) {
    return text.length() <= 60 ? text : text.substring(0, 60) + "…";
  }

  private static String plain(double value) {
    return new BigDecimal(Double.toString(value)).stripTrailingZeros().toPlainString();
  }
}
