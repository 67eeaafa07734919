package org.scenespan.cli;

import picocli.CommandLine.Option;

/** Whether a running session is shown on a page. */
final class PageOption {
  @Option(
      names = "--dashboard",
      paramLabel = "PORT",
      arity = "0..1",
      fallbackValue = "0",
      description =
          "Show the session on a page of this machine; without a port, on a free one. A simulated"
              + " session then takes the time that a real one would.")
  private Integer port;

  /** The page on a port, as if it had been asked for. */
  static PageOption on(int port) {
    PageOption option = new PageOption();
    option.port = port;
    return option;
  }

  boolean wanted() {
    return port != null;
  }

  int port() {
    if (!(port >= 0 && port <= 65_535)) {
      throw new IllegalArgumentException("--dashboard: port (" + port + ") must be 0 to 65535");
    }
    return port;
  }
}
