package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import picocli.CommandLine;

class SettingsTest {
  @TempDir private Path home;

  private Platform platform(String... variables) {
    Map<String, String> set = new HashMap<>();
    for (int i = 0; i < variables.length; i += 2) {
      set.put(variables[i], variables[i + 1]);
    }
    return new Platform("Linux", set::get, home);
  }

  /** Writes lines, with {@code ;} between them, into the usual file. */
  private Path settings(String lines) throws IOException {
    Path file = home.resolve(".config/scenespan/scenespan.conf");
    Files.createDirectories(file.getParent());
    return Files.writeString(file, lines.replace(";", "\n"));
  }

  private static Ran run(Platform platform, String words) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    line.setErr(new PrintWriter(err, true));
    int code = Main.run(line, platform, words.split(" "));
    return new Ran(code, out.toString(), err.toString());
  }

  @ParameterizedTest
  @CsvSource(
      nullValues = "none",
      value = {
        "Linux, none, none, none, /h/.config/scenespan, /h/.local/state/scenespan",
        "Linux, /c, /s, none, /c/scenespan, /s/scenespan",
        "Mac OS X, none, none, none, /h/Library/Application Support/scenespan,"
            + " /h/Library/Application Support/scenespan",
        "Windows 11, none, none, /a, /a/scenespan, /a/scenespan",
      })
  void whereThePlatformKeepsIt(
      String system, String config, String state, String data, String settings, String kept) {
    Map<String, String> variables = new HashMap<>();
    variables.put("XDG_CONFIG_HOME", config);
    variables.put("XDG_STATE_HOME", state);
    variables.put("APPDATA", data);
    Platform platform = new Platform(system, variables::get, Path.of("/h"));
    assertEquals(Path.of(settings), platform.settings());
    assertEquals(Path.of(kept), platform.state());
  }

  /** What is typed comes before the command's section, that before its parent's, before all. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "[plan depth];focal = 50mm;aperture = f/8 | plan depth --distance 3m | 2.34 m",
        "[plan];focal = 50mm;aperture = f/8 | plan depth --distance 3m | f/8",
        "focal = 50mm;aperture = f/8 | plan depth --distance 3m | f/8",
        "[plan];aperture = f/8;[plan depth];aperture = f/4;focal = 50mm | plan depth --distance 3m"
            + " | f/4",
        "[plan depth];focal = 50mm;aperture = f/8 | plan depth --distance 3m --aperture f/2 | f/2",
        "json = true;[plan depth];focal = 50mm;aperture = f/8 | plan depth --distance 3m | {",
        "json = true;[plan depth];focal = 50mm;aperture = f/8 | plan depth --distance 3m --json | {",
        "json = false;[plan depth];focal = 50mm;aperture = f/8 | plan depth --distance 3m --json | {",
      })
  void standsInForWhatIsNotTyped(String lines, String words, String told) throws IOException {
    settings(lines);
    Ran ran = run(platform(), words);
    assertEquals(0, ran.code(), ran.err());
    assertTrue(ran.out().contains(told), ran.out());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "[bracket];;snr 12 | line 3: \"snr 12\" is neither option = value nor [command]",
        "# why;[brackets];snr = 12 | line 3: there is no command \"brackets\"",
        "[bracket];snrr = 12 | line 2: \"bracket\" has no option snrr; see: scenespan bracket --help",
        "colour = no | line 1: no command has an option colour",
        "[bracket];help = true | line 2: \"bracket\" has no option help",
        "[bracket];snr = 12;--snr = 10 | line 3: snr is set in line 2 already",
        "[bracket];snr = loud | line 2); see: scenespan bracket --help",
        "[bracket];snr = 0 | (options are also set in ",
      })
  void anErrorNamesFileAndLine(String lines, String told) throws IOException {
    Path file = settings(lines);
    Ran ran = run(platform(), "bracket --simulate flat --sessions " + home.resolve("s"));
    assertEquals(2, ran.code(), ran.toString());
    assertEquals(1, ran.err().lines().count(), ran.err());
    assertTrue(ran.err().startsWith("scenespan: "), ran.err());
    assertTrue(ran.err().contains(told), ran.err());
    assertTrue(ran.err().contains(file.toString()), ran.err());
    assertEquals(0, run(platform(), "bracket --help").code(), "help is never in the way");
  }

  /** A port that is set for good does not contradict a rehearsal, nor is its folder written to. */
  @Test
  void aRehearsalLeavesTheRealPartsAlone() throws IOException {
    Path real = Files.createDirectory(home.resolve("real"));
    settings("sessions = " + home.resolve("s") + ";[bracket];port = /dev/none;folder = " + real);
    Ran ran = run(platform(), "bracket --simulate flat");
    assertEquals(0, ran.code(), ran.err());
    assertEquals(0, real.toFile().list().length);
    assertEquals(1, home.resolve("s").toFile().list().length);
  }

  /** Nor does it stand in the way of a hand: what is missing then is only the folder. */
  @Test
  void aHandLeavesTheTriggerAlone() throws IOException {
    settings("[bracket];port = /dev/none");
    Ran ran = run(platform(), "bracket --by-hand --sessions " + home.resolve("s"));
    assertEquals(2, ran.code());
    assertTrue(ran.err().contains("give --folder, where the frames appear"), ran.err());
  }

  @Test
  void theEnvironmentMayNameTheFile() throws IOException {
    settings("[plan depth];focal = 50mm");
    Path other = Files.writeString(home.resolve("other.conf"), "[plan depth]\nfocal = 24mm\n");
    Ran ran = run(platform(Settings.VARIABLE, other.toString()), "config");
    assertEquals(0, ran.code(), ran.err());
    assertTrue(ran.out().contains("other.conf, by SCENESPAN_CONFIG"), ran.out());
    assertTrue(ran.out().contains("24mm"), ran.out());
    Ran none = run(platform(Settings.VARIABLE, ""), "config");
    assertEquals(1, none.out().lines().count(), none.out());
    Ran gone = run(platform(Settings.VARIABLE, home.resolve("gone").toString()), "config");
    assertEquals(2, gone.code());
    assertTrue(gone.err().contains("does not exist; make it, or unset"), gone.err());
  }

  @Test
  void whatIsInForceAndWhereFrom() throws IOException {
    settings("snr = 20;[bracket];aperture = f/11");
    Ran ran = run(platform(), "config bracket");
    assertEquals(0, ran.code(), ran.err());
    assertTrue(ran.out().lines().anyMatch(it -> it.matches("bracket +--snr +20 +line 1")));
    assertTrue(ran.out().lines().anyMatch(it -> it.matches("bracket +--aperture +f/11 +line 3")));
    assertTrue(ran.out().lines().anyMatch(it -> it.matches("bracket +--retakes +3 +built in")));
    assertTrue(ran.out().lines().anyMatch(it -> it.matches("bracket +--port +- +built in")));
    Ran all = run(platform(), "config");
    assertTrue(all.out().lines().anyMatch(it -> it.matches("\\(all\\) +--snr +20 +line 1")));
    assertEquals(3, all.out().lines().count(), all.out());
  }

  /** Each option of each command can be set, and is then printed as set. */
  @ParameterizedTest
  @ValueSource(strings = {"bracket", "tether", "inspect", "demo", "plan exposure", "devices check"})
  void everyOptionCanBeSet(String command) throws IOException {
    CommandLine line = Main.commandLine();
    for (String word : command.split(" ")) {
      line = line.getSubcommands().get(word);
    }
    StringBuilder lines = new StringBuilder("[" + command + "];");
    int count = 0;
    for (CommandLine.Model.OptionSpec option : line.getCommandSpec().options()) {
      if (!option.usageHelp() && !option.versionHelp()) {
        lines.append(option.longestName().substring(2)).append(" = here;");
        count++;
      }
    }
    settings(lines.toString());
    StringWriter out = new StringWriter();
    CommandLine fresh = Main.commandLine();
    fresh.setOut(new PrintWriter(out, true));
    Settings set = Settings.load(platform());
    set.check(fresh);
    assertEquals(count, set.entries().size());
    for (CommandLine.Model.OptionSpec option : line.getCommandSpec().options()) {
      boolean asks = option.usageHelp() || option.versionHelp();
      assertEquals(!asks, set.of(line.getCommandSpec(), option).isPresent(), option.toString());
    }
  }

  /** The latest session goes on if it is not done; an older one is left as it is. */
  @Test
  void resumesTheLatest() throws IOException {
    Path sessions = home.resolve("s");
    String resume = "sessions resume --latest --sessions " + sessions;
    assertTrue(run(platform(), resume).out().startsWith("Nothing to resume"));
    run(platform(), "bracket --simulate flat --sessions " + sessions);
    String name = sessions.toFile().list()[0];
    Ran done = run(platform(), resume);
    assertEquals(0, done.code(), done.err());
    assertTrue(done.out().startsWith("Nothing to resume"), done.out());
    Path journal = sessions.resolve(name).resolve("journal.jsonl");
    String whole = Files.readString(journal);
    Files.writeString(journal, whole.lines().findFirst().orElseThrow() + "\n");
    Ran again = run(platform(), resume);
    assertEquals(0, again.code(), again.err());
    assertTrue(again.out().contains("The session goes on."), again.out());
    assertTrue(Files.readString(journal).contains("\"type\":\"report\""));
  }
}
