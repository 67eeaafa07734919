package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import picocli.AutoComplete;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

/** What the packages carry beside the program itself. */
class DistTest {
  private static final Path LINUX = Path.of("src/dist/linux");

  private static List<CommandLine> commands(CommandLine from) {
    List<CommandLine> all = new ArrayList<>(List.of(from));
    from.getSubcommands().values().forEach(sub -> all.addAll(commands(sub)));
    return all;
  }

  @Test
  void everyCommandHasAPageWithAllOfItsOptions() {
    List<CommandLine> all = commands(Main.commandLine());
    assertTrue(all.size() > 20, all.size() + " commands");
    for (CommandLine command : all) {
      String page = ManPages.page(command);
      assertTrue(page.startsWith(".TH SCENESPAN"), page);
      for (OptionSpec option : command.getCommandSpec().options()) {
        String name = option.longestName().replace("-", "\\-");
        assertTrue(page.contains("\\fB" + name + "\\fR"), name + " in: " + page);
      }
      for (String line : page.lines().toList()) {
        boolean request = line.startsWith(".") || line.startsWith("'");
        assertTrue(!request || line.matches("\\.(TH|SH|TP|BR|nf|fi)( .*)?"), line);
        assertFalse(line.contains("${") || line.contains("%n"), line);
      }
    }
  }

  @Test
  void completionKnowsTheCommands() {
    String script = AutoComplete.bash("scenespan", Main.commandLine());
    assertTrue(script.contains("--set-pause") && script.contains("_picocli_scenespan_bracket"));
  }

  /** The service runs a command that there is, as a user that may open ports and nothing else. */
  @Test
  void theServiceGoesOnWithTheLatestSession() throws IOException {
    String unit = Files.readString(LINUX.resolve("scenespan.service"));
    String start =
        unit.lines().filter(line -> line.startsWith("ExecStart=")).findFirst().orElseThrow();
    String[] words = start.substring("ExecStart=".length()).split(" ");
    assertEquals("/opt/scenespan/bin/scenespan", words[0]);
    CommandLine line = Main.commandLine();
    line.parseArgs(List.of(words).subList(1, words.length).toArray(String[]::new));
    for (String wanted :
        List.of("User=scenespan", "SupplementaryGroups=dialout", "Restart=on-failure")) {
      assertTrue(unit.lines().anyMatch(wanted::equals), wanted);
    }
    String made = Files.readString(LINUX.resolve("postinst"));
    assertTrue(made.contains("adduser --system --group") && made.contains("scenespan dialout"));
  }

  /** Nothing is fired, and no file of the user's removed, by putting the package in or out. */
  @Test
  void thePackageStartsAndRemovesNothingOfTheUsers() throws IOException {
    for (String script : List.of("postinst", "prerm", "postrm")) {
      String text = Files.readString(LINUX.resolve(script));
      assertTrue(text.startsWith("#!/bin/sh\n"), script);
      assertFalse(text.contains("systemctl start") || text.contains("enable --now"), script);
      assertFalse(text.matches("(?s).*rm [^\n]*/(var|etc|home)/.*"), script);
    }
  }
}
