package org.scenespan.trigger;

import java.io.IOException;

/** An open two-way stream of bytes to a trigger. Read by one thread, written by another. */
public interface TriggerPort extends AutoCloseable {
  /** What {@link #read} answers when the other side is gone for good. */
  int GONE = -1;

  /**
   * Waits a short while, at most half a second, for bytes.
   *
   * @return how many bytes were read; 0 if none came in time; {@link #GONE} if the port is gone, or
   *     was closed
   */
  int read(byte[] buffer);

  /**
   * Writes all bytes, within a bounded time.
   *
   * @throws IOException if they could not all be written
   */
  void write(byte[] bytes) throws IOException;

  /**
   * Asserts or drops a modem line, within a bounded time.
   *
   * @throws IOException if the port has no such line, or is gone
   */
  default void set(ModemLine line, boolean asserted) throws IOException {
    throw new IOException("this port has no line " + line + " to switch");
  }

  /** Closes the port, and before it drops the lines that it asserted; a waiting read comes back. */
  @Override
  void close();
}
