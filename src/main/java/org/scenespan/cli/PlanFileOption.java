package org.scenespan.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.scenespan.plan.settings.PlannedLimits;
import org.scenespan.wire.PlanJson;
import picocli.CommandLine.Option;

/** The limits that a planned exposure hands to a session. */
final class PlanFileOption {
  /** A plan is a few thousand bytes. */
  private static final long LARGEST_BYTES = 1 << 20;

  @Option(
      names = "--plan",
      paramLabel = "FILE",
      description =
          "Take aperture, longest shutter, highest ISO and start from what scenespan plan exposure"
              + " saved; what is also given by an option comes before.")
  private Path file;

  Optional<PlannedLimits> limits() throws IOException {
    if (file == null) {
      return Optional.empty();
    }
    if (!Files.isRegularFile(file)) {
      throw new IllegalArgumentException("plan \"" + file + "\" does not exist or is no file");
    }
    if (Files.size(file) > LARGEST_BYTES) {
      throw new IllegalArgumentException("plan \"" + file + "\" is too large to be one");
    }
    try {
      return Optional.of(PlanJson.limits(Files.readString(file)));
    } catch (IllegalArgumentException e) {
      throw new IllegalArgumentException("plan \"" + file + "\" " + e.getMessage(), e);
    }
  }
}
