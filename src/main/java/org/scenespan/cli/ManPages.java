package org.scenespan.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import picocli.CommandLine;
import picocli.CommandLine.Help;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/** The manual's pages, one a command, in the man macros of roff; run when a package is built. */
final class ManPages {
  private ManPages() {}

  /**
   * @param args the directory for the pages, which is made
   */
  public static void main(String[] args) throws IOException {
    Path directory = Files.createDirectories(Path.of(args[0]));
    CommandLine line = Main.commandLine();
    line.setColorScheme(Help.defaultColorScheme(Help.Ansi.OFF));
    write(line, directory);
  }

  private static void write(CommandLine command, Path directory) throws IOException {
    String name = name(command.getCommandSpec());
    Files.writeString(directory.resolve(name + ".1"), page(command));
    for (CommandLine sub : command.getSubcommands().values()) {
      write(sub, directory);
    }
  }

  private static String name(CommandSpec command) {
    return command.qualifiedName("-");
  }

  static String page(CommandLine command) {
    CommandSpec spec = command.getCommandSpec();
    String description = String.join(" ", spec.usageMessage().description());
    int end = description.indexOf(". ");
    List<String> lines = new ArrayList<>();
    lines.add(".TH " + name(spec).toUpperCase(Locale.ROOT) + " 1");
    lines.add(".SH NAME");
    lines.add(
        text(name(spec)) + " \\- " + text(end < 0 ? description : description.substring(0, end)));
    lines.add(".SH SYNOPSIS");
    String synopsis = command.getHelp().synopsis(0).strip().replaceAll("\\s+", " ");
    lines.add(text(synopsis));
    lines.add(".SH DESCRIPTION");
    lines.add(text(description));
    if (!command.getSubcommands().isEmpty()) {
      lines.add(".SH COMMANDS");
      for (CommandLine sub : command.getSubcommands().values()) {
        lines.add(".TP");
        lines.add(".BR " + text(name(sub.getCommandSpec())) + " (1)");
        lines.add(text(String.join(" ", sub.getCommandSpec().usageMessage().description())));
      }
    }
    if (!spec.positionalParameters().isEmpty()) {
      lines.add(".SH ARGUMENTS");
      for (PositionalParamSpec parameter : spec.positionalParameters()) {
        lines.add(".TP");
        lines.add("\\fI" + text(parameter.paramLabel()) + "\\fR");
        lines.add(text(String.join(" ", parameter.description())));
      }
    }
    lines.add(".SH OPTIONS");
    for (OptionSpec option : spec.options()) {
      lines.add(".TP");
      String names = "\\fB" + text(String.join("\\fR, \\fB", option.names())) + "\\fR";
      boolean valued = option.arity().max() > 0;
      lines.add(names + (valued ? " \\fI" + text(option.paramLabel()) + "\\fR" : ""));
      lines.add(text(String.join(" ", option.description())));
    }
    lines.add(".SH EXAMPLES");
    lines.add(".nf");
    for (String line : spec.usageMessage().footer()) {
      lines.add(text(line));
    }
    lines.add(".fi");
    return String.join("\n", lines) + "\n";
  }

  /** Hyphens as they are typed, and no word at a line's start that is taken for a request. */
  private static String text(String plain) {
    String fonts = plain.replace("\\fR", "\u0001").replace("\\fB", "\u0002");
    String safe = fonts.replace("%n", "").replace("\\", "\\e").replace("-", "\\-");
    String back = safe.replace("\u0001", "\\fR").replace("\u0002", "\\fB");
    return back.startsWith(".") || back.startsWith("'") ? "\\&" + back : back;
  }
}
