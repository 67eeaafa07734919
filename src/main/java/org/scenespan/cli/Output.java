package org.scenespan.cli;

import picocli.CommandLine.Option;

/** How results are written. */
final class Output {
  @Option(
      names = "--json",
      description = "Write the session's records on standard output, a JSON object a line.")
  private boolean json;

  boolean json() {
    return json;
  }
}
