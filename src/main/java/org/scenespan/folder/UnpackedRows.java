package org.scenespan.folder;

import java.io.IOException;

/** How far one thread has unpacked a picture, for another that measures it meanwhile. */
final class UnpackedRows {
  /** Of so many rows at least is told together, but for the last ones. */
  private static final int TOLD_TOGETHER = 16;

  private int rows;
  private boolean ended;

  /** The rows before this one are unpacked. */
  void reached(int row) {
    if (row % TOLD_TOGETHER == 0) {
      tell(row);
    }
  }

  private synchronized void tell(int row) {
    rows = row;
    notifyAll();
  }

  /**
   * No more rows come.
   *
   * @param row as {@link #reached}
   */
  synchronized void end(int row) {
    rows = row;
    ended = true;
    notifyAll();
  }

  /**
   * Waits until a row is unpacked.
   *
   * @throws IOException if it will not be
   */
  synchronized void await(int row) throws IOException {
    try {
      while (rows <= row && !ended) {
        wait();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("reading was interrupted", e);
    }
    if (rows <= row) {
      throw new IOException("only " + rows + " of its rows could be unpacked");
    }
  }
}
