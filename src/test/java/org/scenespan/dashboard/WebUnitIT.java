package org.scenespan.dashboard;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.Needs;

/** The page's own tests, of the modules that need no browser. */
class WebUnitIT {
  private static final Pattern PASSED = Pattern.compile("(?m)^# pass (\\d+)$");

  @Test
  @Timeout(120)
  void thePagesOwnTestsPass(@TempDir Path folder) throws Exception {
    List<String> command = new ArrayList<>();
    command.add(Needs.tool("web", "node").toString());
    command.add("--test");
    command.add("--test-reporter=tap");
    try (Stream<Path> files = Files.list(Path.of("web/test"))) {
      files.map(Path::toString).filter(name -> name.endsWith(".test.js")).forEach(command::add);
    }
    assertTrue(command.size() > 3, "web/test holds no test");
    Path told = folder.resolve("told");
    Process node =
        new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(told.toFile()).start();
    boolean ended = node.waitFor(100, TimeUnit.SECONDS);
    node.destroyForcibly();
    String output = Files.readString(told, StandardCharsets.UTF_8);
    assertTrue(ended, output);
    assertEquals(0, node.exitValue(), output);
    Matcher passed = PASSED.matcher(output);
    assertTrue(passed.find() && Integer.parseInt(passed.group(1)) > 0, output);
  }
}
