package org.scenespan.cli;

import java.nio.file.Files;
import java.nio.file.Path;
import org.scenespan.journal.Sessions;
import org.scenespan.trigger.Profile;
import picocli.CommandLine.Option;

/** The parts that a session runs on: a trigger, its port, and the hot folder. */
final class PartsOptions {
  @Option(
      names = "--trigger",
      paramLabel = "PROFILE",
      defaultValue = "reference-trigger",
      description = "The trigger's device profile: a name, or a .json file (${DEFAULT-VALUE}).")
  private String trigger;

  @Option(
      names = "--port",
      paramLabel = "PORT",
      description =
          "The trigger's port: a serial one such as /dev/ttyUSB0, tcp://HOST:PORT or"
              + " rfc2217://HOST:PORT.")
  private String port;

  @Option(
      names = "--folder",
      paramLabel = "DIR",
      description = "The hot folder in which the camera's files appear. Files are only ever read.")
  private Path folder;

  /** Whether a trigger is given at all. */
  boolean hasPort() {
    return port != null;
  }

  /**
   * The hot folder of a session that needs no trigger.
   *
   * @throws IllegalArgumentException if there is none
   */
  String folder() {
    if (folder == null) {
      throw new IllegalArgumentException("give --folder, where the camera's files appear");
    }
    return existing();
  }

  String trigger() {
    return trigger;
  }

  Profile profile(Places places) {
    return places.profiles().load(trigger);
  }

  /** The port of real parts; call {@link #real} first. */
  String port() {
    return port;
  }

  /**
   * The folder of a simulated camera.
   *
   * @throws IllegalArgumentException if a real port is given, too
   */
  String simulated() {
    if (port != null) {
      throw new IllegalArgumentException("--simulate and --port contradict each other");
    }
    return folder == null ? Sessions.FRAMES : absolute(folder);
  }

  /**
   * The hot folder of real parts.
   *
   * @param instead what else could be given, for the message
   * @throws IllegalArgumentException if a part is missing
   */
  String real(String instead) {
    if (port == null || folder == null) {
      throw new IllegalArgumentException("give --port and --folder for real parts, " + instead);
    }
    return existing();
  }

  /**
   * The hot folder of a camera that is set by hand.
   *
   * @param simulated whether simulated parts are asked for, too
   * @throws IllegalArgumentException if there is a trigger, or no folder
   */
  String byHand(boolean simulated) {
    if (port != null || simulated) {
      throw new IllegalArgumentException(
          "--by-hand needs no trigger: leave --port and --simulate out");
    }
    if (folder == null) {
      throw new IllegalArgumentException(
          "give --folder, where the frames appear that you take by hand");
    }
    return existing();
  }

  private String existing() {
    if (!Files.isDirectory(folder)) {
      throw new IllegalArgumentException(
          "hot folder \""
              + folder
              + "\" does not exist or is no directory; create it, or name the"
              + " one that the camera's files reach");
    }
    return absolute(folder);
  }

  static String absolute(Path path) {
    return path.toAbsolutePath().normalize().toString();
  }
}
