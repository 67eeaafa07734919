package org.scenespan.cli;

import picocli.CommandLine.Option;

/** How fast a simulated session goes. */
final class RealTimeOption {
  @Option(
      names = "--real-time",
      description = "Let a simulated session take the time that a real one would.")
  private boolean wanted;

  boolean wanted() {
    return wanted;
  }
}
