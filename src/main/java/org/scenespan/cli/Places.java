package org.scenespan.cli;

import java.nio.file.Path;
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
    return new Sessions(sessions != null ? sessions : Platform.here().state().resolve("sessions"));
  }

  Profiles profiles() {
    return new Profiles(Optional.of(ownOr(profiles, "device-profiles")));
  }

  CameraProfiles cameraProfiles() {
    return new CameraProfiles(ownOr(cameraProfiles, "camera-profiles"));
  }

  private static Path ownOr(Path named, String usual) {
    return named != null ? named : Platform.here().settings().resolve(usual);
  }
}
