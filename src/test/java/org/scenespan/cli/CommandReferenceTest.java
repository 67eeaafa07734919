package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;

/**
 * The page of all commands is what the program's own help says. {@code mvn test
 * -Dtest=CommandReferenceTest -Dscenespan.write=commands} writes it anew.
 */
class CommandReferenceTest {
  private static final Path PAGE = Path.of("docs/commands.md");
  private static final int COLUMNS = 100;

  @Test
  void isWhatTheHelpSays() throws IOException {
    String page = page();
    assertTrue(page.contains("\n## `scenespan sessions report`\n"));
    if ("commands".equals(System.getProperty("scenespan.write"))) {
      Files.writeString(PAGE, page);
    }
    assertEquals(
        page, Files.readString(PAGE), "docs/commands.md is old; -Dscenespan.write=commands");
  }

  private static String page() {
    StringBuilder page = new StringBuilder("# All commands\n\nAs `--help` on each of them says.\n");
    add(page, Main.commandLine());
    return page.toString();
  }

  private static void add(StringBuilder page, CommandLine line) {
    line.setUsageHelpAutoWidth(false);
    line.setUsageHelpWidth(COLUMNS);
    page.append("\n## `").append(line.getCommandSpec().qualifiedName()).append("`\n\n```text\n");
    String help = line.getUsageMessage(CommandLine.Help.Ansi.OFF);
    help.lines().forEach(one -> page.append(one.stripTrailing()).append('\n'));
    page.append("```\n");
    line.getSubcommands().values().forEach(sub -> add(page, sub));
  }
}
