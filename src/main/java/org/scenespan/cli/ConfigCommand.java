package org.scenespan.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** What is in force, and where from. */
@Command(
    name = "config",
    mixinStandardHelpOptions = true,
    description =
        "Print where your settings are and what they set; with a command, every option of it with"
            + " the value that holds when nothing is typed, and where it is from.",
    footerHeading = "%nExample:%n",
    footer = "  scenespan config bracket")
final class ConfigCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;

  @Option(names = "--path", description = "Print only the settings file's path.")
  private boolean path;

  @Parameters(
      paramLabel = "COMMAND",
      arity = "0..*",
      description = "A command's words, such as plan depth.")
  private List<String> words = List.of();

  @Override
  public Integer call() {
    PrintWriter out = spec.commandLine().getOut();
    CommandLine asked = command();
    Settings settings =
        SettingsInForce.of(spec)
            .map(SettingsInForce::settings)
            .orElseGet(() -> new Settings(Settings.usualFile(Platform.here()), false, List.of()));
    if (path) {
      out.println(settings.file());
    } else {
      out.println(heading(settings));
      if (words.isEmpty()) {
        settings.entries().forEach(entry -> out.println(row(entry)));
      } else {
        of(asked, out, settings);
      }
    }
    out.flush();
    return ExitCode.DONE;
  }

  private static String heading(Settings settings) {
    return "Settings file: "
        + settings.file()
        + (settings.named() ? ", by " + Settings.VARIABLE : "")
        + (Files.exists(settings.file()) ? "" : " (there is none)");
  }

  private static String row(Settings.Entry entry) {
    return line(
        entry.command().isEmpty() ? "(all)" : entry.command(),
        "--" + entry.option(),
        entry.value(),
        "line " + entry.line());
  }

  private static String line(String command, String option, String value, String from) {
    return String.format(Locale.ROOT, "%-16s  %-20s  %-24s  %s", command, option, value, from);
  }

  private CommandLine command() {
    CommandLine command = spec.root().commandLine();
    for (String word : words) {
      CommandLine next = command.getSubcommands().get(word);
      if (next == null) {
        throw new IllegalArgumentException(
            "there is no command \"" + String.join(" ", words) + "\"; see: scenespan --help");
      }
      command = next;
    }
    return command;
  }

  private static void of(CommandLine command, PrintWriter out, Settings settings) {
    CommandSpec of = command.getCommandSpec();
    for (OptionSpec option : of.options()) {
      if (option.usageHelp() || option.versionHelp()) {
        continue;
      }
      Optional<Settings.Entry> entry = settings.of(of, option);
      String builtIn = option.defaultValue();
      out.println(
          line(
              Settings.words(of),
              option.longestName(),
              entry.map(Settings.Entry::value).orElse(builtIn == null ? "-" : builtIn),
              entry.map(it -> "line " + it.line()).orElse("built in")));
    }
  }
}
