package org.scenespan.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Exposure;
import org.scenespan.light.Shutter;
import org.scenespan.plan.settings.PlannedLimits;
import org.scenespan.wire.PlanJson;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** The limits that a planned exposure hands to a session. */
final class PlanFileOption {
  /** A plan is a few thousand bytes. */
  private static final long LARGEST_BYTES = 1 << 20;

  @Spec(Spec.Target.MIXEE)
  private CommandSpec command;

  @Option(
      names = "--plan",
      paramLabel = "FILE",
      description =
          "Take aperture, longest shutter, highest ISO and start from what scenespan plan exposure"
              + " saved; what is also given by an option comes before.")
  private Path file;

  private Optional<Exposure> start = Optional.empty();

  /**
   * Reads what was planned, if a plan is given, into the options of the command that were not given
   * themselves. A command that takes a plan has them all; their texts are its own.
   *
   * @throws IllegalArgumentException if the file is no plan
   */
  void fillIn() throws IOException {
    Optional<PlannedLimits> planned = limits();
    planned.map(it -> it.start().aperture()).ifPresent(it -> fillIn("--aperture", it));
    planned.flatMap(PlannedLimits::longest).ifPresent(it -> fillIn("--longest", it));
    planned.map(PlannedLimits::highestIso).ifPresent(it -> fillIn("--highest-iso", it));
    start = planned.map(PlannedLimits::start);
  }

  private void fillIn(String name, Object value) {
    OptionSpec option = command.findOption(name);
    if (option.getValue() == null) {
      option.setValue(value);
    }
  }

  /**
   * What the first frame is taken by, as far as it was said: by an option, or by the plan if the
   * aperture is still the planned one.
   *
   * @param shutter the first shutter, at the lowest ISO; null if it was not given
   */
  Optional<Exposure> first(Shutter shutter, Aperture aperture, CameraRange range) {
    return Optional.ofNullable(shutter)
        .map(it -> new Exposure(it, aperture, range.lowestIso()))
        .or(() -> start.filter(it -> it.aperture().equals(aperture)));
  }

  private Optional<PlannedLimits> limits() throws IOException {
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
