package org.scenespan.trigger;

import java.util.Arrays;
import java.util.concurrent.BlockingQueue;

/** A port with the thread that reads it, which puts what comes into a queue. */
final class PortReader {
  /**
   * News for the edge's thread.
   *
   * @param reader whose news; null for a mere wake-up
   * @param bytes what was read; none if the port is gone
   */
  record Signal(PortReader reader, byte[] bytes) {
    static final Signal WAKE = new Signal(null, new byte[0]);

    boolean isGone() {
      return bytes.length == 0;
    }
  }

  private static final int BUFFER_BYTES = 4096;

  /** How long closing waits for the thread; a read takes at most half a second. */
  private static final long CLOSE_LIMIT_MILLIS = 1_000;

  private final TriggerPort port;
  private final BlockingQueue<Signal> signals;
  private final Thread thread = new Thread(this::run, "scenespan-trigger-reader");
  private volatile boolean closing;

  private PortReader(TriggerPort port, BlockingQueue<Signal> signals) {
    this.port = port;
    this.signals = signals;
  }

  static PortReader start(TriggerPort port, BlockingQueue<Signal> signals) {
    PortReader reader = new PortReader(port, signals);
    reader.thread.setDaemon(true);
    reader.thread.start();
    return reader;
  }

  TriggerPort port() {
    return port;
  }

  /** Closes the port and ends the thread. */
  void close() {
    closing = true;
    port.close();
    // Wakes it if it waits for room in the queue.
    thread.interrupt();
    try {
      thread.join(CLOSE_LIMIT_MILLIS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void run() {
    try {
      pump();
      if (!closing) {
        signals.put(new Signal(this, new byte[0]));
      }
    } catch (InterruptedException closed) {
      // The end of a thread that is its own owner.
    }
  }

  /** Reads until the port is gone; one that throws instead of saying so is gone, too. */
  private void pump() throws InterruptedException {
    byte[] buffer = new byte[BUFFER_BYTES];
    while (!closing) {
      int count;
      try {
        count = port.read(buffer);
      } catch (RuntimeException broken) {
        return;
      }
      if (count < 0) {
        return;
      }
      if (count > 0) {
        signals.put(new Signal(this, Arrays.copyOf(buffer, count)));
      }
    }
  }
}
