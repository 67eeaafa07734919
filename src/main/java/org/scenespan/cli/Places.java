package org.scenespan.cli;

import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.control.CameraProfiles;
import org.scenespan.journal.Sessions;
import org.scenespan.trigger.Profiles;
import picocli.CommandLine.Option;

/** Where sessions and profiles are. */
final class Places {
  @Option(
      names = "--sessions",
      paramLabel = "DIR",
      description = "Where sessions are kept. Default: the platform's place for a program's state.")
  private Path sessions;

  @Option(
      names = "--profiles",
      paramLabel = "DIR",
      description =
          "Your own device profiles, which come before the built-in ones. Default: the platform's"
              + " place for settings.")
  private Path profiles;

  @Option(
      names = "--camera-profiles",
      paramLabel = "DIR",
      description =
          "Your own camera profiles, from scenespan calibrate. Default: the platform's place for"
              + " settings.")
  private Path cameraProfiles;

  Sessions sessions() {
    return new Sessions(sessions != null ? sessions : home("XDG_STATE_HOME", ".local/state"));
  }

  Profiles profiles() {
    Path directory =
        profiles != null
            ? profiles
            : place("XDG_CONFIG_HOME", ".config").resolve("device-profiles");
    return new Profiles(Optional.of(directory));
  }

  CameraProfiles cameraProfiles() {
    return new CameraProfiles(
        cameraProfiles != null
            ? cameraProfiles
            : place("XDG_CONFIG_HOME", ".config").resolve("camera-profiles"));
  }

  private static Path home(String variable, String usual) {
    return place(variable, usual).resolve("sessions");
  }

  /** XDG base directories; on Windows the roaming application data. */
  private static Path place(String variable, String usual) {
    String set = System.getenv(variable);
    if (set != null && !set.isBlank()) {
      return Path.of(set, "scenespan");
    }
    String appData = System.getenv("APPDATA");
    boolean windows = System.getProperty("os.name").toLowerCase(Locale.ROOT).startsWith("windows");
    return windows && appData != null
        ? Path.of(appData, "scenespan")
        : Path.of(System.getProperty("user.home"), usual, "scenespan");
  }
}
