package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.light.Lighting;

/** What the page on planning shows is what the program does. */
class PlanningPageTest {
  private static final Path PAGE = Path.of("docs/planning.md");

  @TempDir private Path directory;

  /** One after the other, as a reader would: what one saves the next one reads. */
  @Test
  void everyCommandRuns() throws IOException {
    List<String> commands =
        Files.readAllLines(PAGE).stream().filter(line -> line.startsWith("scenespan ")).toList();
    assertTrue(commands.size() >= 15, "commands read: " + commands.size());
    for (String command : commands) {
      String line =
          command
              .substring("scenespan ".length())
              .replace("plan.json", directory.resolve("plan.json").toString());
      Ran ran =
          line.startsWith("bracket")
              ? Ran.line(line, "--sessions", directory.resolve("sessions").toString())
              : Ran.line(line);
      assertEquals(0, ran.code(), command + "\n" + ran);
      assertEquals("", ran.err(), command);
    }
  }

  @Test
  void everyLightIsNamed() throws IOException {
    String page = Files.readString(PAGE);
    for (Lighting lighting : Lighting.values()) {
      assertTrue(page.contains(lighting.label()), lighting.label());
    }
  }
}
