package org.scenespan.cli;

import java.io.PrintWriter;

/** One line at the bottom that tells how far the work is; nothing where nobody watches. */
final class ProgressBar {
  private static final int CELLS = 24;

  /** Fewer are done before anybody has read it. */
  private static final int FEWEST = 3;

  private final PrintWriter to;
  private final int total;
  private final boolean shown;
  private boolean drawn;

  ProgressBar(PrintWriter to, int total, boolean watched) {
    this.to = to;
    this.total = total;
    this.shown = watched && total >= FEWEST;
  }

  void show(int done) {
    if (shown && done < total) {
      int full = CELLS * done / total;
      to.print("\r[" + "#".repeat(full) + ".".repeat(CELLS - full) + "] " + done + "/" + total);
      to.flush();
      drawn = true;
    }
  }

  void clear() {
    if (drawn) {
      // Back to the line's start and clear to its end (ECMA-48, CSI K).
      to.print("\r\u001b[K");
      to.flush();
      drawn = false;
    }
  }
}
