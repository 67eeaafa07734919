package org.scenespan.cli;

import java.nio.charset.Charset;

/** What the terminal that the program talks to can show. */
final class Terminal {
  private Terminal() {}

  /** Whether anybody watches: neither output is piped. */
  static boolean isInteractive() {
    return System.console() != null;
  }

  /** Whether standard output is UTF-8, so that block elements arrive as they are. */
  static boolean showsBlocks() {
    // JDK 19 names it; JDK 17 on a terminal has an unofficial name for it, and else its default.
    String fallback = System.getProperty("sun.stdout.encoding", Charset.defaultCharset().name());
    return System.getProperty("stdout.encoding", fallback).equalsIgnoreCase("UTF-8");
  }
}
