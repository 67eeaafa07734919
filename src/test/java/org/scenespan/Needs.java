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
    return without(group, executable + " is not on the path");
  }

  /** Finds a file that a package of the system brings. */
  public static Path file(String group, Path file) {
    return Files.exists(file) ? file : without(group, file + " is not there");
  }

  /** Skips a test that cannot run, for the reason given; fails if its group must not skip. */
  public static <T> T without(String group, String what) {
    String reason = what + " (tests of group " + group + ")";
    List<String> mandatory =
        Arrays.asList(System.getProperty("scenespan.mandatory", "").split(","));
    if (mandatory.contains(group) || mandatory.contains("all")) {
      fail(reason);
    }
    return abort(reason);
  }
}
