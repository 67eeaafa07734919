package org.scenespan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** Runs another program that a test holds the project against. */
public final class Tool {
  private Tool() {}

  /** What it writes on both outputs, as Latin-1; it must end well. */
  public static String run(Path tool, String... arguments)
      throws IOException, InterruptedException {
    List<String> command = new ArrayList<>(List.of(tool.toString()));
    command.addAll(List.of(arguments));
    Path output = Files.createTempFile("tool", ".txt");
    try {
      Process process =
          new ProcessBuilder(command)
              .redirectErrorStream(true)
              .redirectOutput(output.toFile())
              .start();
      assertTrue(process.waitFor(60, TimeUnit.SECONDS), tool + " does not end");
      String said = Files.readString(output, StandardCharsets.ISO_8859_1);
      assertEquals(0, process.exitValue(), said);
      return said;
    } finally {
      Files.delete(output);
    }
  }
}
