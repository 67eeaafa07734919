package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.abort;

import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;

/** The packaged program as a process of its own. */
public final class Program implements AutoCloseable {
  /** Its seconds are too few for the thorough compiler, which would cost more than it saves. */
  static final List<String> FLAGS = List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC");

  private static final long LONGEST_SECONDS = 60;

  private static final int SIGINT = 2;

  private final Process process;
  private final BufferedReader out;
  private final Path errors;
  private final List<String> lines = new ArrayList<>();

  private Program(Process process, Path errors) {
    this.process = process;
    this.out = process.inputReader(StandardCharsets.UTF_8);
    this.errors = errors;
  }

  /** Starts the packaged jar; skips where it is not built, unless the jar's tests must not skip. */
  public static Program start(Path directory, String... words) throws IOException {
    return start(directory, List.of(), words);
  }

  /** Starts a trigger and a camera of software, which put frames of a window into a folder. */
  static Program emulator(Path directory, Path frames) throws IOException {
    return start(
        directory,
        "devices",
        "emulate",
        "--folder",
        frames.toString(),
        "--simulate",
        "window",
        "--for",
        "600s");
  }

  /** Where the trigger of software can be reached. */
  String port() throws IOException {
    return await(line -> line.startsWith("Port: ")).substring("Port: ".length());
  }

  /** Starts the packaged jar by way of another program, which becomes it. */
  static Program start(Path directory, List<String> by, String... words) throws IOException {
    Path jar = Path.of(System.getProperty("scenespan.jar", "target/scenespan.jar"));
    if (!Files.isRegularFile(jar)) {
      List<String> mandatory =
          Arrays.asList(System.getProperty("scenespan.mandatory", "").split(","));
      String reason = "the packaged jar is not there: " + jar;
      if (mandatory.contains("jar") || mandatory.contains("all")) {
        fail(reason);
      }
      abort(reason);
    }
    String java =
        Path.of(System.getProperty("java.home"), "bin", "java").toString()
            + (File.separatorChar == '\\' ? ".exe" : "");
    List<String> command = new ArrayList<>(hearingInterrupts());
    command.addAll(by);
    command.add(java);
    command.addAll(FLAGS);
    command.addAll(SharedClasses.flags(java, jar.toAbsolutePath()));
    command.addAll(List.of("-jar", jar.toAbsolutePath().toString()));
    command.addAll(List.of(words));
    Path errors = Files.createTempFile(directory, "errors", ".txt");
    Process process =
        new ProcessBuilder(command)
            .directory(directory.toFile())
            .redirectError(errors.toFile())
            .start();
    return new Program(process, errors);
  }

  /**
   * What a script starts in the background is deaf to Ctrl-C, and so is all that it starts: the
   * program is to hear it even when the tests themselves do not.
   */
  private static List<String> hearingInterrupts() throws IOException {
    Path status = Path.of("/proc/self/status");
    if (!Files.isReadable(status)) {
      return List.of();
    }
    boolean deaf =
        Files.readAllLines(status).stream()
            .filter(line -> line.startsWith("SigIgn:"))
            .mapToLong(line -> Long.parseUnsignedLong(line.substring(7).strip(), 16))
            .anyMatch(ignored -> (ignored & 1L << SIGINT - 1) != 0);
    return deaf ? List.of("env", "--default-signal=INT") : List.of();
  }

  /** Reads lines until one is as wished, and gives it. */
  public String await(Predicate<String> wished) throws IOException {
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      lines.add(line);
      if (wished.test(line)) {
        return line;
      }
    }
    List<String> last = lines.subList(Math.max(0, lines.size() - 5), lines.size());
    return fail(
        "the program ended without it; its errors: " + errors() + "; its last lines: " + last);
  }

  /** The power is gone. */
  public void kill() throws InterruptedException {
    process.destroyForcibly();
    assertTrue(process.waitFor(LONGEST_SECONDS, TimeUnit.SECONDS), "a killed process ends");
  }

  /** Asks it to end, as Ctrl-C does, and gives its exit code. */
  public int interrupt() throws IOException, InterruptedException {
    new ProcessBuilder("kill", "-INT", Long.toString(process.pid())).start().waitFor();
    return exitCode();
  }

  /** Reads to the end and gives the exit code. */
  public int exitCode() throws IOException, InterruptedException {
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      lines.add(line);
    }
    assertTrue(process.waitFor(LONGEST_SECONDS, TimeUnit.SECONDS), "the program ends");
    return process.exitValue();
  }

  long pid() {
    return process.pid();
  }

  /** All lines that were read so far. */
  public List<String> lines() {
    return lines;
  }

  public String errors() throws IOException {
    return Files.readString(errors);
  }

  @Override
  public void close() throws IOException {
    process.destroyForcibly();
    out.close();
  }
}
