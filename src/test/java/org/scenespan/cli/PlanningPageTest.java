package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.scenespan.light.Lighting;

/** What the page on planning shows is what the program does. */
class PlanningPageTest {
  private static final Path PAGE = Path.of("docs/planning.md");

  @Test
  void everyLightIsNamed() throws IOException {
    String page = Files.readString(PAGE);
    for (Lighting lighting : Lighting.values()) {
      assertTrue(page.contains(lighting.label()), lighting.label());
    }
  }
}
