package org.scenespan.rehearsal;

import java.util.List;

/** The scenes that need no file. */
final class BundledScenes {
  private BundledScenes() {}

  static List<String> names() {
    return List.of("ridge", "window", "flat");
  }

  static Radiance draw(String name) {
    return switch (name) {
      case "ridge" -> new RidgeScene().draw();
      default ->
          throw new IllegalArgumentException(
              "there is no scene \"" + name + "\"; there are " + String.join(", ", names()));
    };
  }
}
