package org.scenespan.cli;

import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import picocli.CommandLine;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/**
 * The options that a user has set for good, in a file of lines {@code option = value}. Those before
 * the first {@code [command]} are for every command that has them; those under {@code [plan]} for
 * all that begin so, and those under {@code [plan depth]} come before them.
 *
 * @param file where they are from
 * @param named whether the environment names it
 * @param entries in the order of the file
 */
record Settings(Path file, boolean named, List<Entry> entries) {
  /** Names the file, where it is not in its usual place; empty for none. */
  static final String VARIABLE = "SCENESPAN_CONFIG";

  private static final String FILE_NAME = "scenespan.conf";

  /** Every option of every command once is a tenth of it. */
  private static final int MOST_BYTES = 1 << 18;

  /**
   * One line.
   *
   * @param command its words, empty for all commands
   * @param option without its dashes
   * @param line in the file, from 1
   */
  record Entry(String command, String option, String value, int line) {
    boolean isFor(String words) {
      return command.isEmpty() || words.equals(command) || words.startsWith(command + " ");
    }
  }

  Settings {
    entries = List.copyOf(entries);
  }

  static Path usualFile(Platform platform) {
    return platform.settings().resolve(FILE_NAME);
  }

  /** Whether this user has a file of settings, or names one. */
  static boolean exist(Platform platform) {
    return platform.variables().apply(VARIABLE) != null || Files.exists(usualFile(platform));
  }

  /**
   * The settings of this user; without a file none.
   *
   * @throws IllegalArgumentException in one line with file and line, if they make no sense
   */
  static Settings load(Platform platform) {
    String named = platform.variables().apply(VARIABLE);
    Path file = named == null ? usualFile(platform) : Path.of(named);
    if (named != null && named.isBlank()) {
      return new Settings(usualFile(platform), false, List.of());
    }
    try {
      if (named == null && !Files.exists(file)) {
        return new Settings(file, false, List.of());
      }
      if (Files.size(file) > MOST_BYTES) {
        throw new IllegalArgumentException(
            "settings file \"" + file + "\" is bigger than any; give it lines option = value");
      }
      return parse(file, named != null, Files.readAllLines(file));
    } catch (NoSuchFileException none) {
      throw new IllegalArgumentException(
          "settings file \"" + file + "\" does not exist; make it, or unset " + VARIABLE, none);
    } catch (CharacterCodingException wrong) {
      throw new IllegalArgumentException(
          "settings file \"" + file + "\" is no text in UTF-8; save it as such", wrong);
    } catch (IOException unreadable) {
      throw new IllegalArgumentException(
          "settings file \"" + file + "\" cannot be read: " + unreadable.getMessage(), unreadable);
    }
  }

  static Settings parse(Path file, boolean named, List<String> lines) {
    List<Entry> entries = new ArrayList<>();
    String command = "";
    for (int i = 0; i < lines.size(); i++) {
      String line = (i == 0 ? lines.get(i).replaceFirst("^\\ufeff", "") : lines.get(i)).strip();
      if (line.isEmpty() || line.startsWith("#")) {
        continue;
      }
      if (line.startsWith("[") && line.endsWith("]")) {
        command = line.substring(1, line.length() - 1).strip().replaceAll("\\s+", " ");
        continue;
      }
      int sign = line.indexOf('=');
      String option = sign < 0 ? "" : line.substring(0, sign).strip().replaceFirst("^--", "");
      if (option.isEmpty()) {
        throw new IllegalArgumentException(
            at(file, i + 1) + ": \"" + line + "\" is neither option = value nor [command]");
      }
      Entry entry = new Entry(command, option, line.substring(sign + 1).strip(), i + 1);
      for (Entry earlier : entries) {
        if (earlier.command.equals(command) && earlier.option.equals(option)) {
          throw new IllegalArgumentException(
              at(file, i + 1) + ": " + option + " is set in line " + earlier.line + " already");
        }
      }
      entries.add(entry);
    }
    return new Settings(file, named, entries);
  }

  private static String at(Path file, int line) {
    return "settings file \"" + file + "\", line " + line;
  }

  String at(Entry entry) {
    return at(file, entry.line);
  }

  /** The entry that holds for an option of a command: of several the one that says most. */
  Optional<Entry> of(CommandSpec command, OptionSpec option) {
    String words = words(command);
    Entry best = null;
    for (Entry entry : entries) {
      if (entry.isFor(words)
          && ("--" + entry.option).equals(option.longestName())
          && (best == null || entry.command.length() > best.command.length())) {
        best = entry;
      }
    }
    return Optional.ofNullable(best);
  }

  /** A command's words without the program's. */
  static String words(CommandSpec command) {
    String whole = command.qualifiedName();
    int space = whole.indexOf(' ');
    return space < 0 ? "" : whole.substring(space + 1);
  }

  /**
   * Looks whether each entry is for an option that there is.
   *
   * @throws IllegalArgumentException with file and line, if one is not
   */
  void check(CommandLine root) {
    for (Entry entry : entries) {
      CommandLine command = root;
      for (String word : entry.command.isEmpty() ? new String[0] : entry.command.split(" ")) {
        command = command == null ? null : command.getSubcommands().get(word);
      }
      if (command == null) {
        throw new IllegalArgumentException(
            at(entry) + ": there is no command \"" + entry.command + "\"; see: scenespan --help");
      }
      if (!has(command, "--" + entry.option)) {
        throw new IllegalArgumentException(
            at(entry)
                + ": "
                + (entry.command.isEmpty()
                    ? "no command has an"
                    : "\"" + entry.command + "\" has no")
                + " option "
                + entry.option
                + "; see: scenespan "
                + (entry.command.isEmpty() ? "" : entry.command + " ")
                + "--help");
      }
    }
  }

  private static boolean has(CommandLine command, String option) {
    OptionSpec own = command.getCommandSpec().findOption(option);
    return own != null && !own.usageHelp() && !own.versionHelp()
        || command.getSubcommands().values().stream().anyMatch(it -> has(it, option));
  }
}
