package org.scenespan;

import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.abort;

import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;

/** What a test of a real edge needs of the machine: it skips without, unless it must not. */
public final class Needs {
  private Needs() {}

  /**
   * Finds an executable on the path.
   *
   * @param group the group of tests; named in the property {@code scenespan.mandatory}, or {@code
   *     all} there, makes a missing tool a failure
   */
  public static Path tool(String group, String executable) {
    for (String folder : System.getenv().getOrDefault("PATH", "").split(File.pathSeparator)) {
      Path candidate = Path.of(folder).resolve(executable);
      if (Files.isExecutable(candidate)) {
        return candidate;
      }
    }
    String reason = executable + " is not on the path (tests of group " + group + ")";
    List<String> mandatory =
        Arrays.asList(System.getProperty("scenespan.mandatory", "").split(","));
    if (mandatory.contains(group) || mandatory.contains("all")) {
      fail(reason);
    }
    return abort(reason);
  }
}
