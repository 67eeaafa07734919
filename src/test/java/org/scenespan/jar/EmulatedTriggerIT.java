package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

/**
 * Two programs and a pseudo-terminal between them: one is the trigger and the camera, the other
 * covers the scene through the real serial library and a real folder.
 */
@Timeout(120)
@DisabledOnOs(value = OS.WINDOWS, disabledReason = "Windows has no pseudo-terminals")
class EmulatedTriggerIT {
  @TempDir private Path directory;

  @Test
  void aRealPortAndARealFolderCoverAScene() throws Exception {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    try (Program device = Program.emulator(directory, frames)) {
      String port = device.port();
      try (Program check = Program.start(directory, "devices", "check", "--port", port)) {
        assertEquals(0, check.exitCode(), check.errors());
        assertTrue(check.lines().contains("Meter:   EV 12.0"), check.lines().toString());
      }
      try (Program bracket = bracket(port, frames)) {
        assertEquals(0, bracket.exitCode(), bracket.errors());
        String report = bracket.lines().get(bracket.lines().size() - 1);
        assertTrue(report.contains("\"covered\":true"), report);
      }
    }
    try (Stream<Path> files = Files.list(frames)) {
      List<String> names = files.map(file -> file.getFileName().toString()).toList();
      assertTrue(
          names.stream().allMatch(name -> name.matches("SCN_\\d{4}\\.JPG")),
          "what the camera wrote, and nothing else: " + names);
    }
  }

  @Test
  void aCheckFiresAndWhatItFoundIsLearned() throws Exception {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    Path profiles = directory.resolve("profiles");
    try (Program device = Program.emulator(directory, frames)) {
      String port = device.port();
      String[] check = {"devices", "check", "--port", port, "--folder", frames.toString()};
      try (Program fired = Program.start(directory, with(check, "--fire", "--frames", "4"))) {
        assertEquals(0, fired.exitCode(), fired.errors());
        String all = String.join("\n", fired.lines());
        assertEquals(4, all.split("; the frame agrees", -1).length - 1, all);
        // The emulated shutter lags by 60 ms.
        Matcher lag = Pattern.compile("Lag: +([0-9.]+) ms .* jitter ([0-9.]+) ms").matcher(all);
        assertTrue(lag.find() && Double.parseDouble(lag.group(1)) >= 55, all);
        System.out.println(lag.group());
      }
      String[] learn = {
        "devices",
        "learn",
        "--port",
        port,
        "--folder",
        frames.toString(),
        "--frames",
        "1",
        "--profiles",
        profiles.toString()
      };
      try (Program learned = Program.start(directory, learn)) {
        assertEquals(0, learned.exitCode(), learned.errors());
        assertTrue(
            learned.lines().contains("Kept:    " + profiles.resolve("reference-trigger.json")),
            learned.lines().toString());
      }
      // It is not written over without being told to, and nothing is fired in vain.
      long before = count(frames);
      try (Program again = Program.start(directory, learn)) {
        assertEquals(2, again.exitCode());
        assertTrue(again.errors().contains("give --replace, or another --name"), again.errors());
        assertEquals(before, count(frames));
      }
      try (Program used =
          Program.start(
              directory, "devices", "check", "--port", port, "--profiles", profiles.toString())) {
        assertEquals(0, used.exitCode(), used.errors());
        assertTrue(
            used.lines().stream().anyMatch(line -> line.startsWith("Learned: answers ")),
            used.lines().toString());
      }
    }
    try (Stream<Path> kept = Files.list(profiles)) {
      assertEquals(
          List.of("reference-trigger.json"),
          kept.map(file -> file.getFileName().toString()).toList());
    }
  }

  private static long count(Path folder) throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files.count();
    }
  }

  private static String[] with(String[] words, String... more) {
    return Stream.concat(Stream.of(words), Stream.of(more)).toArray(String[]::new);
  }

  @Test
  void aPulledCableIsToldAndOutlivedUnderAnotherName() throws Exception {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    Path link = directory.resolve("trigger");
    Program first = Program.emulator(directory, frames);
    // Both are there at once, so that the second's port has another name.
    try (Program second = Program.emulator(directory, frames)) {
      Files.createSymbolicLink(link, Path.of(first.port()));
      try (Program bracket = bracket(link.toString(), frames)) {
        bracket.await(line -> line.contains("\"type\":\"shot-commanded\""));
        // The other program holds the device's end: with it the cable goes.
        first.kill();
        bracket.await(line -> line.contains("\"type\":\"trigger-lost\""));
        Path again = directory.resolve("again");
        Files.createSymbolicLink(again, Path.of(second.port()));
        Files.move(again, link, StandardCopyOption.ATOMIC_MOVE);
        bracket.await(line -> line.contains("\"type\":\"trigger-greeted\""));
        assertEquals(0, bracket.exitCode(), bracket.errors());
      }
    } finally {
      first.close();
    }
  }

  @Test
  void aBusyPortIsToldBeforeAnythingBegins() throws Exception {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    try (Program device = Program.emulator(directory, frames)) {
      String port = device.port();
      try (Program bracket = bracket(port, frames)) {
        bracket.await(line -> line.contains("\"type\":\"shot-commanded\""));
        try (Program second = bracket(port, frames)) {
          assertEquals(2, second.exitCode());
          assertTrue(second.errors().startsWith("scenespan: port \"" + port), second.errors());
        }
      }
    }
  }

  private Program bracket(String port, Path frames) throws IOException {
    return Program.start(
        directory,
        "bracket",
        "--port",
        port,
        "--folder",
        frames.toString(),
        "--frame-timeout",
        "3s",
        "--json",
        "--sessions",
        "sessions");
  }
}
