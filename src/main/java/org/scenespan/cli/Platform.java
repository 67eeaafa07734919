package org.scenespan.cli;

import java.nio.file.Path;
import java.util.Locale;
import java.util.function.UnaryOperator;

/**
 * Where this kind of system keeps a program's things: the XDG base directories, on macOS
 * Application Support, on Windows the roaming application data.
 *
 * @param system its name
 * @param variables the environment; null for one that is not set
 * @param home the user's own directory
 */
record Platform(String system, UnaryOperator<String> variables, Path home) {
  private static final String NAME = "scenespan";

  static Platform here() {
    return new Platform(
        System.getProperty("os.name"), System::getenv, Path.of(System.getProperty("user.home")));
  }

  /** For what the user sets. */
  Path settings() {
    return place("XDG_CONFIG_HOME", ".config");
  }

  /** For what the program keeps. */
  Path state() {
    return place("XDG_STATE_HOME", ".local/state");
  }

  private Path place(String variable, String usual) {
    String set = variables.apply(variable);
    if (set != null && !set.isBlank()) {
      return Path.of(set, NAME);
    }
    String plain = system.toLowerCase(Locale.ROOT);
    String appData = variables.apply("APPDATA");
    if (plain.startsWith("windows") && appData != null) {
      return Path.of(appData, NAME);
    }
    return plain.startsWith("mac")
        ? home.resolve("Library/Application Support").resolve(NAME)
        : home.resolve(usual).resolve(NAME);
  }
}
