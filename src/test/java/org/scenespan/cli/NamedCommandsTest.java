package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import picocli.CommandLine;

/** As much of the command line as is named says the same as all of it. */
class NamedCommandsTest {
  @TempDir private Path home;

  private Platform platform() {
    Map<String, String> none = Map.of();
    return new Platform("Linux", none::get, home);
  }

  private static String told(CommandLine line, Platform platform, String... args) {
    StringWriter told = new StringWriter();
    line.setOut(new PrintWriter(told, true));
    line.setErr(new PrintWriter(told, true));
    int code = Main.run(line, platform, args);
    return code + "\n" + told;
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "plan depth --focal 50mm --aperture f/8 --distance 3m",
        "plan dept --focal 50mm",
        "plan",
        "plan depth --focal 50mm --aperture f/8 --distance 3m --no-color",
        "sessions list --sessions none",
        "devices",
        "devices chek",
        "bracket --simulate nowhere",
        "inspect",
        "brackets",
        "--version",
        "lapse --help",
        "help",
      })
  void saysTheSame(String words) {
    String[] args = words.split(" ");
    String whole = told(Main.commandLine(), platform(), args);
    assertEquals(whole, told(Main.commandLineFor(platform(), args), platform(), args));
  }

  @Test
  void readsNoOptionsOfOtherCommands() {
    CommandLine line = Main.commandLineFor(platform(), "plan", "depth");
    assertEquals(Main.commandLine().getSubcommands().keySet(), line.getSubcommands().keySet());
    CommandLine plan = line.getSubcommands().get("plan");
    assertTrue(options(plan.getSubcommands().get("depth")) > 5);
    assertTrue(options(plan.getSubcommands().get("lapse")) <= 1);
    assertTrue(options(line.getSubcommands().get("bracket")) <= 1, "the inherited one");
  }

  private static int options(CommandLine line) {
    return line.getCommandSpec().options().size();
  }
}
