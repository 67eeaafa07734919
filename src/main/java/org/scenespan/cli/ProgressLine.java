package org.scenespan.cli;

import java.io.PrintWriter;
import java.util.Locale;
import org.scenespan.proof.Progress;

/** Progress on a terminal, rewritten in place; nothing where nobody watches. */
final class ProgressLine implements Progress, AutoCloseable {
  private final PrintWriter err;
  private final boolean terminal;
  private String shown = "";

  private ProgressLine(PrintWriter err, boolean terminal) {
    this.err = err;
    this.terminal = terminal;
  }

  static ProgressLine on(PrintWriter err) {
    return new ProgressLine(err, System.console() != null);
  }

  @Override
  public void at(String step, double share) {
    String text = String.format(Locale.ROOT, "%3.0f %%  %s", share * 100, step);
    if (terminal && !text.equals(shown)) {
      shown = text;
      // Back to the line's start and clear to its end (ECMA-48, CSI K).
      err.print("\r\u001b[K" + text);
      err.flush();
    }
  }

  @Override
  public void close() {
    if (terminal && !shown.isEmpty()) {
      err.print("\r\u001b[K");
      err.flush();
    }
  }
}
