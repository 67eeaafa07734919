package org.scenespan.dashboard;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.util.Optional;
import java.util.function.Consumer;
import org.scenespan.frame.Patch;
import org.scenespan.session.Input;
import org.scenespan.session.Mark;

/**
 * What a request's body asks for. Whatever is wrong with it is an {@link IllegalArgumentException}
 * whose message says so.
 */
final class Requests {
  private static final JsonMapper MAPPER = JsonMapper.builder().build();

  /** Longer names are no file's. */
  private static final int LONGEST_NAME = 255;

  private Requests() {}

  /** {@code {"file":"…","patch":{"left":0.4,"top":0.4,"width":0.1,"height":0.1}}}. */
  static Consumer<Acts> reference(String body) {
    JsonNode asked = tree(body);
    String file = file(asked);
    Optional<Patch> patch =
        asked.hasNonNull("patch") ? Optional.of(patch(asked.get("patch"))) : Optional.empty();
    return acts -> acts.reference(file, patch);
  }

  /** {@code {"file":"…","mark":"keep","note":"…"}}. */
  static Consumer<Acts> mark(String body) {
    JsonNode asked = tree(body);
    String file = file(asked);
    Mark mark = Mark.of(asked.path("mark").asText());
    String note = asked.path("note").asText();
    return acts -> acts.mark(file, mark, note);
  }

  /** {@code {"countSeconds":5}}: how long the count-down of a release is. */
  static int release(String body) {
    int seconds = tree(body).path("countSeconds").asInt(-1);
    return new Input.ReleaseAsked(seconds).countSeconds();
  }

  /**
   * {@code {"shows":"latest"}} chooses what guests see, {@code {"link":true}} makes a link for them
   * where there is none, {@code {"link":false}} withdraws it.
   */
  static Consumer<Guests> guests(String body) {
    JsonNode asked = tree(body);
    if (asked.path("link").isBoolean()) {
      return asked.get("link").asBoolean() ? Guests::open : Guests::withdraw;
    }
    Guests.Shown shown = Guests.Shown.of(asked.path("shows").asText());
    return guests -> guests.show(shown);
  }

  private static JsonNode tree(String body) {
    try {
      JsonNode tree = MAPPER.readTree(body);
      if (tree.isObject()) {
        return tree;
      }
    } catch (JsonProcessingException unreadable) {
      // Told below.
    }
    throw new IllegalArgumentException("the request is not a JSON object");
  }

  private static String file(JsonNode asked) {
    String file = asked.path("file").asText();
    if (file.isEmpty() || file.length() > LONGEST_NAME) {
      throw new IllegalArgumentException("the request names no frame");
    }
    return file;
  }

  private static Patch patch(JsonNode node) {
    return new Patch(
        node.path("left").asDouble(Double.NaN),
        node.path("top").asDouble(Double.NaN),
        node.path("width").asDouble(Double.NaN),
        node.path("height").asDouble(Double.NaN));
  }
}
