package org.scenespan.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.scenespan.Needs;

/** The reference firmware's core, compiled for this machine with what a test puts around it. */
final class Firmware {
  static final Path HOME = Path.of("device-profiles", "reference-trigger");
  private static final Path CORE = HOME.resolve("core");
  private static final Path AROUND = Path.of("src", "test", "cpp", "firmware");
  private static final long LONGEST_SECONDS = 120;

  private Firmware() {}

  /** The language and the rules that every compiler is given. */
  static List<String> rules() {
    return List.of(
        "-std=c++11",
        "-Wall",
        "-Wextra",
        "-Werror",
        "-Wconversion",
        "-pedantic",
        "-fno-exceptions",
        "-fno-rtti",
        "-I" + CORE);
  }

  static Path core() {
    return CORE.resolve("trigger_core.cpp");
  }

  /**
   * Compiles a program of the core and one file around it; any fault in memory or arithmetic ends
   * it with an error.
   *
   * @param around the file's name without its suffix
   */
  static Path program(String around, Path folder) throws IOException, InterruptedException {
    Path program = folder.resolve(around);
    List<String> command = new ArrayList<>();
    command.add(Needs.tool("firmware", "g++").toString());
    command.addAll(rules());
    command.addAll(List.of("-O1", "-g", "-fsanitize=address,undefined"));
    command.add("-fno-sanitize-recover=all");
    command.addAll(List.of("-o", program.toString()));
    command.addAll(List.of(AROUND.resolve(around + ".cpp").toString(), core().toString()));
    run(command);
    return program;
  }

  /** Runs a program to its good end and gives what it said. */
  static String run(List<String> command) throws IOException, InterruptedException {
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    process.getOutputStream().close();
    String said = new String(process.getInputStream().readAllBytes());
    assertTrue(process.waitFor(LONGEST_SECONDS, TimeUnit.SECONDS), "it ends: " + command);
    assertEquals(0, process.exitValue(), command + ": " + said);
    return said;
  }
}
