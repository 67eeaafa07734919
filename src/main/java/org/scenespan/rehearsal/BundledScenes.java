package org.scenespan.rehearsal;

import java.util.List;
import org.scenespan.frame.Radiance;

/** The scenes that need no file. */
final class BundledScenes {
  private BundledScenes() {}

  static List<String> names() {
    return List.of("ridge", "window", "flat");
  }

  /**
   * @throws IllegalArgumentException if there is no scene of that name
   */
  static void check(String name) {
    if (!names().contains(name)) {
      throw new IllegalArgumentException(
          "there is no scene \"" + name + "\"; there are " + String.join(", ", names()));
    }
  }

  /**
   * @throws IllegalArgumentException if there is no scene of that name
   */
  static Radiance draw(String name) {
    return switch (name) {
      case "ridge" -> new RidgeScene().draw();
      case "window" -> new WindowScene().draw();
      case "flat" -> new FlatScene().draw();
      default -> throw new IllegalArgumentException("there is no scene \"" + name + "\"");
    };
  }
}
