package org.scenespan.cli;

import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** What stands before every command. */
abstract class AnyCommand {
  @Spec private CommandSpec spec;

  @Option(
      names = "--no-color",
      scope = CommandLine.ScopeType.INHERIT,
      description = "Write without colours or emphasis.")
  void noColor(boolean on) {
    if (on) {
      spec.root()
          .commandLine()
          .setColorScheme(CommandLine.Help.defaultColorScheme(CommandLine.Help.Ansi.OFF));
    }
  }

  final void usage() {
    spec.commandLine().usage(spec.commandLine().getOut());
  }
}
