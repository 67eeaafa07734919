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

  /** A shipped profile by its name. */
  static ObjectNode shipped(String name) {
    return read(name + ".json");
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

  /** The reference trigger's profile with the field at a JSON pointer set. */
  static ObjectNode with(String pointer, Object value) {
    return with(reference(), pointer, value);
  }

  static ObjectNode with(ObjectNode profile, String pointer, Object value) {
    ObjectNode changed = profile.deepCopy();
    int slash = pointer.lastIndexOf('/');
    JsonNode parent = changed.at(pointer.substring(0, slash));
    ((ObjectNode) parent).set(pointer.substring(slash + 1), JSON.valueToTree(value));
    return changed;
  }

  /** The reference trigger's profile with the field at a JSON pointer taken away. */
  static ObjectNode without(String pointer) {
    return without(reference(), pointer);
  }

  static ObjectNode without(ObjectNode profile, String pointer) {
    ObjectNode changed = profile.deepCopy();
    int slash = pointer.lastIndexOf('/');
    ((ObjectNode) changed.at(pointer.substring(0, slash))).remove(pointer.substring(slash + 1));
    return changed;
  }

  static Profile profileWith(String pointer, Object value) {
    return ProfileReader.read("x.json", with(pointer, value));
  }

  static Profile profileWithout(String field) {
    return ProfileReader.read("x.json", without("/" + field));
  }
}
