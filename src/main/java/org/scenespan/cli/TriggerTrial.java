package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.control.FireTest;
import org.scenespan.light.Exposure;
import org.scenespan.trigger.Profile;
import picocli.CommandLine.Option;

/** The trigger that is tried, and how. */
final class TriggerTrial {
  private static final int MOST_FRAMES = 20;

  @Option(
      names = "--trigger",
      paramLabel = "PROFILE",
      defaultValue = "reference-trigger",
      description = "The device profile: a name, or a .json file (${DEFAULT-VALUE}).")
  private String trigger;

  @Option(
      names = "--port",
      paramLabel = "PORT",
      required = true,
      description =
          "The trigger's port: a serial one such as /dev/ttyUSB0, tcp://HOST:PORT or"
              + " rfc2217://HOST:PORT.")
  private String port;

  @Option(
      names = "--folder",
      paramLabel = "DIR",
      description = "The hot folder, to see what the frames were taken with. Only read.")
  private Path folder;

  @Option(
      names = "--frames",
      paramLabel = "N",
      defaultValue = "3",
      description = "How many frames are fired, 1 to 20 (${DEFAULT-VALUE}).")
  private int frames;

  String trigger() {
    return trigger;
  }

  String port() {
    return port;
  }

  /** Fires the frames and prints each of them and what they come to. */
  Fired fire(Profile profile, PrintWriter out) throws IOException, InterruptedException {
    if (!(frames >= 1 && frames <= MOST_FRAMES)) {
      throw new IllegalArgumentException("--frames (" + frames + ") must be 1 to " + MOST_FRAMES);
    }
    if (folder != null && !Files.isDirectory(folder)) {
      throw new IllegalArgumentException(
          "hot folder \"" + folder + "\" does not exist or is no directory; create it first");
    }
    List<Exposure> exposures = FireTest.exposures(profile.cameraRange(), frames);
    List<FireTest.Shot> shots =
        FireTest.run(
            profile,
            port,
            exposures,
            Optional.ofNullable(folder),
            shot -> {
              out.println("Frame:   " + text(shot));
              out.flush();
            });
    Optional<Profile.Measured> measured = FireTest.measured(profile, shots);
    measured.ifPresent(found -> print(found, out));
    if (shots.size() < frames || shots.stream().anyMatch(shot -> !shot.firedSurely())) {
      return new Fired(measured, ExitCode.TRIGGER_FAILED);
    }
    boolean missing = shots.stream().anyMatch(shot -> !shot.trouble().isEmpty());
    return new Fired(measured, missing ? ExitCode.FRAMES_MISSING : ExitCode.DONE);
  }

  /**
   * What firing came to.
   *
   * @param measured absent if the trigger confirmed nothing
   * @param exitCode the program's
   */
  record Fired(Optional<Profile.Measured> measured, int exitCode) {}

  private static String text(FireTest.Shot shot) {
    StringBuilder text = new StringBuilder(shot.commanded() + " commanded");
    shot.beyond()
        .ifPresent(
            time ->
                text.append(
                    String.format(
                        Locale.ROOT, "; answered %.1f ms beyond it", time.toNanos() / 1e6)));
    shot.exposed()
        .ifPresent(
            time ->
                text.append(
                    String.format(
                        Locale.ROOT, "; %.4g s by the trigger's clock", time.toNanos() / 1e9)));
    shot.arrival()
        .ifPresent(
            time ->
                text.append(
                    String.format(Locale.ROOT, "; file %.1f s later", time.toMillis() / 1e3)));
    shot.taken()
        .ifPresent(
            taken ->
                text.append(
                    taken.isSameSetting(shot.commanded())
                        ? "; the frame agrees"
                        : "; but the frame says " + taken));
    return text.append(shot.trouble().isEmpty() ? "" : "; " + shot.trouble()).toString();
  }

  private static void print(Profile.Measured found, PrintWriter out) {
    out.printf(
        Locale.ROOT,
        "Lag:     %.1f ms from release to answer beyond the exposure, in the mean of %d; jitter"
            + " %.1f ms%n",
        found.answerMillis(),
        found.frames(),
        found.jitterMillis());
    found
        .exposureErrorMillis()
        .ifPresent(
            error ->
                out.printf(Locale.ROOT, "Bulb:    %+.1f ms against what was commanded%n", error));
  }
}
