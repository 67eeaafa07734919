package org.scenespan.cli;

import java.util.LinkedHashMap;
import java.util.Map;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;

/**
 * A command line that knows the named command alone, and of the others the name: to read the
 * options of all of them by reflection takes longer than most of what they do.
 */
final class NamedCommands {
  private NamedCommands() {}

  /** What stands before the command; there is no other way to reach it. */
  @Command
  private static final class Program extends AnyCommand {}

  /** The classes of a command's own commands by name, its methods left out. */
  static Map<String, Class<?>> names(Class<?> type) {
    Map<String, Class<?>> names = new LinkedHashMap<>();
    for (Class<?> each : type.getAnnotation(Command.class).subcommands()) {
      names.put(each.getAnnotation(Command.class).name(), each);
    }
    return names;
  }

  /**
   * @param program with all commands
   * @param args of which the first names a command
   */
  static CommandLine line(Class<?> program, String... args) {
    CommandLine line = new CommandLine(new Program());
    line.getCommandSpec().name(program.getAnnotation(Command.class).name());
    add(line, program, 0, args);
    return line;
  }

  private static void add(CommandLine line, Class<?> parent, int at, String... args) {
    for (Map.Entry<String, Class<?>> each : names(parent).entrySet()) {
      boolean named = each.getKey().equals(args[at]);
      boolean further = args.length > at + 1 && names(each.getValue()).containsKey(args[at + 1]);
      if (named && further) {
        CommandLine group = stub(each.getKey());
        add(group, each.getValue(), at + 1, args);
        line.addSubcommand(each.getKey(), group);
      } else {
        line.addSubcommand(
            each.getKey(), named ? new CommandLine(each.getValue()) : stub(each.getKey()));
      }
    }
  }

  private static CommandLine stub(String name) {
    return new CommandLine(CommandSpec.create().name(name));
  }
}
