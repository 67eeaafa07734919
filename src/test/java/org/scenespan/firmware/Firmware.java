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

  /** The 8-bit board's program, compiled as the README of the firmware says it. */
  static Path eightBits(Path folder) throws IOException, InterruptedException {
    return board("avr-g++", "avr8", List.of("-mmcu=atmega328p", "-DF_CPU=16000000UL"), folder);
  }

  /** The 32-bit board's program, likewise. */
  static Path thirtyTwoBits(Path folder) throws IOException, InterruptedException {
    Path memory = HOME.resolve("boards").resolve("arm32").resolve("memory.ld");
    List<String> options =
        List.of(
            "-mcpu=cortex-m3",
            "-mthumb",
            "-ffreestanding",
            "-fno-threadsafe-statics",
            "-nostdlib",
            "-T" + memory,
            "-lgcc");
    return board("arm-none-eabi-g++", "arm32", options, folder);
  }

  private static Path board(String compiler, String board, List<String> options, Path folder)
      throws IOException, InterruptedException {
    Path program = folder.resolve(board + ".elf");
    List<String> command = new ArrayList<>();
    command.add(Needs.tool("boards", compiler).toString());
    command.addAll(rules());
    command.addAll(List.of("-Os", "-ffunction-sections", "-fdata-sections", "-Wl,--gc-sections"));
    command.add(HOME.resolve("boards").resolve(board).resolve("board.cpp").toString());
    command.add(core().toString());
    command.addAll(options);
    command.addAll(List.of("-o", program.toString()));
    run(command);
    return program;
  }

  /** A simulated chip around the 8-bit board's program: the simulator needs its headers. */
  static Path chip(Path folder) throws IOException, InterruptedException {
    Needs.file("boards", Path.of("/usr/include/simavr/sim_avr.h"));
    Path program = folder.resolve("avr_chip");
    run(
        List.of(
            Needs.tool("boards", "g++").toString(),
            "-std=c++11",
            "-O2",
            "-Wall",
            "-Wextra",
            "-Werror",
            "-o",
            program.toString(),
            AROUND.resolve("avr_chip.cpp").toString(),
            "-lsimavr"));
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
