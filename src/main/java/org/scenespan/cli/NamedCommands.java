package org.scenespan.cli;

import java.util.Set;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;

/**
 * Makes only those commands whose name stands on the command line; of the others the name alone.
 * Reading the options of all of them by reflection takes longer than most of what they do.
 *
 * @param words of the command line
 */
record NamedCommands(Set<String> words) implements CommandLine.IFactory {
  /** Whether a word is the name of one of the program's commands. */
  static boolean isCommand(String word) {
    for (Class<?> type : Main.class.getAnnotation(Command.class).subcommands()) {
      if (type.getAnnotation(Command.class).name().equals(word)) {
        return true;
      }
    }
    return false;
  }

  @Override
  public <K> K create(Class<K> type) throws Exception {
    Command command = type.getAnnotation(Command.class);
    if (command == null || words.contains(command.name())) {
      return CommandLine.defaultFactory().create(type);
    }
    // The factory may answer with a command that is made already.
    @SuppressWarnings("unchecked")
    K named = (K) new CommandLine(CommandSpec.create().name(command.name()));
    return named;
  }
}
