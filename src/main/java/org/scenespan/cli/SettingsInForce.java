package org.scenespan.cli;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import picocli.CommandLine;
import picocli.CommandLine.IDefaultValueProvider;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;

/**
 * A user's settings as the defaults of a command line: what is typed comes before them, they come
 * before what is built in.
 *
 * @param words what is typed
 */
record SettingsInForce(Settings settings, List<String> words) implements IDefaultValueProvider {
  /** What is typed takes the other from the settings: simulated parts, or real ones. */
  private static final Map<String, Set<String>> INSTEAD =
      Map.of(
          "--simulate", Set.of("--port", "--folder"),
          "--by-hand", Set.of("--port", "--simulate"),
          "--port", Set.of("--simulate"),
          "--folder", Set.of("--simulate"));

  static final Set<String> ASKING = Set.of("--help", "-h", "--version", "-V");

  /**
   * Puts a user's settings in force.
   *
   * @throws IllegalArgumentException in one line with file and line, if they make no sense; never
   *     where only help is asked for
   */
  static void apply(Platform platform, CommandLine line, String... args) {
    List<String> words = List.of(args);
    if (words.stream().anyMatch(ASKING::contains)) {
      return;
    }
    Settings settings = Settings.load(platform);
    if (!settings.entries().isEmpty()) {
      settings.check(line);
    }
    line.setDefaultValueProvider(new SettingsInForce(settings, words));
  }

  static Optional<SettingsInForce> of(CommandSpec command) {
    return command.root().defaultValueProvider() instanceof SettingsInForce force
        ? Optional.of(force)
        : Optional.empty();
  }

  @Override
  public String defaultValue(ArgSpec argument) {
    return argument instanceof OptionSpec option
        ? entry(option).map(Settings.Entry::value).orElse(null)
        : null;
  }

  /** The entry that counts, if one does. */
  Optional<Settings.Entry> entry(OptionSpec option) {
    String name = option.longestName();
    boolean replaced =
        INSTEAD.entrySet().stream()
            .anyMatch(typed -> isTyped(typed.getKey()) && typed.getValue().contains(name));
    // A flag that is typed would be the opposite of its default.
    return replaced || isTyped(name) ? Optional.empty() : settings.of(option.command(), option);
  }

  private boolean isTyped(String option) {
    return words.stream().anyMatch(word -> word.equals(option) || word.startsWith(option + "="));
  }

  /** Where the options that a message names were set, if in the settings. */
  static String blame(CommandLine line, String message) {
    return of(line.getCommandSpec()).map(force -> force.told(line, message)).orElse("");
  }

  private String told(CommandLine line, String message) {
    StringBuilder named = new StringBuilder();
    boolean any = false;
    for (OptionSpec option : line.getCommandSpec().options()) {
      Optional<Settings.Entry> entry = entry(option);
      any |= entry.isPresent();
      String name = option.longestName();
      Pattern whole = Pattern.compile(Pattern.quote(name) + "(?![a-z-])");
      if (entry.isPresent() && whole.matcher(message).find()) {
        named.append(" (").append(name).append(" is set in ");
        named.append(settings.at(entry.get())).append(')');
      }
    }
    if (!named.isEmpty() || !any) {
      return named.toString();
    }
    return " (options are also set in \""
        + settings.file()
        + "\"; see: scenespan config "
        + Settings.words(line.getCommandSpec())
        + ")";
  }
}
