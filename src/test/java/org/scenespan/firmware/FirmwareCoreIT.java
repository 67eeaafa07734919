package org.scenespan.firmware;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.scenespan.Needs;
import org.scenespan.light.Ev;
import org.scenespan.rehearsal.Faults;
import org.scenespan.rehearsal.RigSettings;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SimulatedRig;

/** The reference firmware's core in virtual time: what it does, and what it never does. */
@Timeout(120)
class FirmwareCoreIT {
  private static final long FUZZED_BYTES = 5_000_000;
  private static final int LINES_COMPARED = 4_000;
  private static final int MOST_UNITS = 4;

  /** What a device can be asked for, but for the errors behind the first four. */
  private static final String ALL_THERE_IS =
      "EXP:TIME?;ISO?;APER?;:TRIG:DONE?;:SYST:ERR?;ERR?;ERR?;ERR?";

  @TempDir static Path folder;
  private static Path bench;

  @BeforeAll
  static void compile() throws Exception {
    bench = Firmware.program("bench", folder);
  }

  /** Plays steps on the bench and gives them back with what the device did. */
  private static String play(String limits, String steps) throws IOException {
    Path input = Files.createTempFile(folder, "steps", ".txt");
    Files.write(input, steps.getBytes(ISO_8859_1));
    Process process =
        new ProcessBuilder(bench.toString(), limits)
            .redirectInput(input.toFile())
            .redirectErrorStream(true)
            .start();
    return new String(process.getInputStream().readAllBytes(), ISO_8859_1);
  }

  static List<String> steps() throws IOException {
    String all = Files.readString(Path.of("src/test/resources/firmware/steps.txt"), ISO_8859_1);
    return Arrays.stream(all.split("\n\n"))
        .map(section -> section.strip() + "\n")
        .skip(1) // what the file is about
        .toList();
  }

  private static boolean isStep(String line) {
    return line.matches("(> .*|(bytes|blanks|wait|still) .*|fault|lost|deaf|hear)");
  }

  @ParameterizedTest
  @MethodSource("steps")
  void doesWhatIsWrittenToTheLetter(String section) throws IOException {
    List<String> lines = section.lines().toList();
    assertTrue(lines.get(0).startsWith("# "), lines.get(0));
    List<String> expected = lines.subList(1, lines.size());
    List<String> steps = expected.stream().filter(FirmwareCoreIT::isStep).toList();
    String played = play("contact", String.join("\n", steps) + "\n");
    assertEquals(String.join("\n", expected) + "\nend\n", played, lines.get(0));
  }

  /** The emulated trigger and the firmware are of one mind about lines made up at random. */
  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3})
  void answersAsTheEmulatedTriggerDoes(long seed) throws IOException {
    Path dot = folder.resolve("dot.hdr");
    Files.write(dot, "#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 1 +X 1\n@@@@".getBytes(ISO_8859_1));
    Scene scene = Scene.load(dot, new Ev(12));
    SimulatedRig rig =
        new SimulatedRig(
            RigSettings.TYPICAL, scene, Files.createTempDirectory(folder, "card"), Faults.NONE);
    Random random = new Random(seed);
    Instant now = Instant.parse("2026-03-01T05:00:00Z");
    rig.runDue(now);
    rig.receive("EXP:TIME 0.5\n".getBytes(ISO_8859_1), now);
    StringBuilder steps = new StringBuilder("> EXP:TIME 0.5\n");
    List<String> emulated = new ArrayList<>(List.of("> EXP:TIME 0.5"));
    for (int i = 0; i < LINES_COMPARED; i++) {
      String line = i % 2 == 0 ? lineOf(random) : ALL_THERE_IS;
      steps.append("> ").append(line).append("\n");
      // Each unit of a line may wait for an exposure's end, or be one.
      steps.append("jump 33000\n".repeat(MOST_UNITS));
      emulated.add("> " + line);
      rig.receive((line + "\n").getBytes(ISO_8859_1), now);
      now = now.plus(Duration.ofSeconds(33 * MOST_UNITS));
      rig.runDue(now);
      String said = new String(rig.takeOutput(), ISO_8859_1);
      said.lines().map(reply -> "< " + reply).forEach(emulated::add);
    }
    List<String> spoken =
        play("protocol", steps.toString()).lines().filter(line -> line.matches("[<>] .*")).toList();
    assertTrue(spoken.size() > LINES_COMPARED * 3 / 2, "too little was said: " + spoken.size());
    for (int i = 0; i < emulated.size(); i++) {
      int from = Math.max(0, i - 4);
      assertEquals(emulated.get(i), spoken.get(i), "the last of " + emulated.subList(from, i + 1));
    }
    assertEquals(emulated.size(), spoken.size());
  }

  /** One to four units; values that both keep and show alike. */
  private static String lineOf(Random random) {
    String[] headers = {
      "*CLS",
      "*RST 1",
      "*OPC?",
      "SYST:ERR?",
      "SYSTem:ERRor?",
      "syst:error?",
      "ERR?",
      "EXP:TIME",
      "EXPosure:TIME",
      "TIME",
      "EXP:TIME?",
      "TIME?",
      "EXP:ISO",
      "EXP:ISO?",
      "ISO",
      "EXP:APER",
      "EXP:APER?",
      "APERTURE?",
      "APERT?",
      "TRIG:REL",
      "TRIGGER:RELEASE",
      "REL",
      "TRIG:DONE?",
      "DONE?",
      "*OPC",
      "EXPO:TIME?",
      "EXP",
      "FOO:BAR?",
      "",
      "*",
      "EXP:TIME:TIME?",
      "TRIG:DON?",
    };
    String[] numbers = {
      "0.03125",
      "3.125e-2",
      "+.015625",
      "0.015625",
      "1e-9",
      "33",
      "-1",
      "100",
      "200",
      "12800",
      "8",
      "4",
      "1.4",
      "2",
      "1",
      "7",
      "999999999",
      "1e9",
      "1.5",
      "1 2",
      "x",
      "1e",
      "",
      "NaN",
      "0",
    };
    return IntStream.rangeClosed(1, 1 + random.nextInt(MOST_UNITS))
        .mapToObj(
            unit -> {
              String header = headers[random.nextInt(headers.length)];
              boolean common = header.startsWith("*");
              String colon = !common && random.nextInt(3) == 0 ? ":" : "";
              boolean bare = header.endsWith("?") && random.nextInt(20) > 0;
              return colon
                  + header
                  + (bare ? "" : " " + numbers[random.nextInt(numbers.length)])
                  + " ".repeat(random.nextInt(2));
            })
        .reduce((a, b) -> a + ";" + b)
        .orElseThrow();
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4})
  void nothingThatIsThrownAtItKeepsAContactClosed(long seed) throws Exception {
    String said =
        Firmware.run(List.of(fuzz().toString(), Long.toString(seed), Long.toString(FUZZED_BYTES)));
    assertTrue(said.startsWith("held: "), said);
  }

  private static synchronized Path fuzz() throws Exception {
    Path fuzz = folder.resolve("fuzz");
    return Files.exists(fuzz) ? fuzz : Firmware.program("fuzz", folder);
  }

  /** The core calls nothing outside itself: no heap, no library, no floating point. */
  @Test
  void theCoreNeedsNothing() throws Exception {
    Path object = folder.resolve("core.o");
    List<String> command = new ArrayList<>();
    command.add(Needs.tool("firmware", "g++").toString());
    command.addAll(Firmware.rules());
    command.addAll(List.of("-Os", "-ffreestanding", "-fno-stack-protector", "-mgeneral-regs-only"));
    command.addAll(List.of("-c", Firmware.core().toString(), "-o", object.toString()));
    Firmware.run(command);
    String nm = Needs.tool("firmware", "nm").toString();
    List<String> undefined =
        Firmware.run(List.of(nm, "-u", object.toString()))
            .lines()
            .map(line -> line.replace("U ", "").strip())
            .filter(name -> !List.of("memcpy", "memmove", "memset").contains(name))
            .filter(name -> !name.equals("_GLOBAL_OFFSET_TABLE_"))
            .toList();
    assertEquals(List.of(), undefined);
  }
}
