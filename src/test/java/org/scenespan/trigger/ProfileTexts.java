package org.scenespan.trigger;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;

/** Variations of the shipped profile's text. */
final class ProfileTexts {
  static final ObjectMapper JSON = new ObjectMapper();

  private ProfileTexts() {}

  static ObjectNode reference() {
    return read("reference-trigger.json");
  }

  static ObjectNode schema() {
    return read("profile.schema.json");
  }

  private static ObjectNode read(String name) {
    try {
      return (ObjectNode) JSON.readTree(Path.of("device-profiles", name).toFile());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The shipped profile with the field at a JSON pointer set. */
  static ObjectNode with(String pointer, Object value) {
    ObjectNode profile = reference();
    int slash = pointer.lastIndexOf('/');
    JsonNode parent = profile.at(pointer.substring(0, slash));
    ((ObjectNode) parent).set(pointer.substring(slash + 1), JSON.valueToTree(value));
    return profile;
  }

  /** The shipped profile with the field at a JSON pointer taken away. */
  static ObjectNode without(String pointer) {
    ObjectNode profile = reference();
    int slash = pointer.lastIndexOf('/');
    ((ObjectNode) profile.at(pointer.substring(0, slash))).remove(pointer.substring(slash + 1));
    return profile;
  }

  static Profile profileWith(String pointer, Object value) {
    return ProfileReader.read("x.json", with(pointer, value));
  }

  static Profile profileWithout(String field) {
    return ProfileReader.read("x.json", without("/" + field));
  }
}
