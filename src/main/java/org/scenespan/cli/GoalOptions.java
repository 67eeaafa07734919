package org.scenespan.cli;

import org.scenespan.light.Share;
import picocli.CommandLine.Option;

/** What counts as held. */
final class GoalOptions {
  @Option(
      names = "--snr",
      paramLabel = "RATIO",
      defaultValue = "10",
      description = "The signal-to-noise that every part has in some frame (${DEFAULT-VALUE}).")
  private double snr;

  @Option(
      names = "--clip-tolerance",
      paramLabel = "SHARE",
      defaultValue = "0.0001",
      converter = Values.ShareValue.class,
      description = "The brightest share of the pixels that may be let go (${DEFAULT-VALUE}).")
  private Share clipTolerance;

  @Option(
      names = "--shadow-tolerance",
      paramLabel = "SHARE",
      defaultValue = "0.005",
      converter = Values.ShareValue.class,
      description = "The darkest share of the pixels that may be let go (${DEFAULT-VALUE}).")
  private Share shadowTolerance;

  double snr() {
    return snr;
  }

  Share clipTolerance() {
    return clipTolerance;
  }

  Share shadowTolerance() {
    return shadowTolerance;
  }
}
