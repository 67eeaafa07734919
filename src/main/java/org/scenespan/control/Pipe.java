package org.scenespan.control;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.util.Arrays;

/** A bounded one-way stream of bytes between two threads of one process. */
final class Pipe {
  private static final int END = -1;

  /** The longest that a reader without a limit of its own sleeps before it looks again. */
  private static final long LOOK_MILLIS = 1000;

  private final byte[] ring = new byte[64 * 1024];
  private int start;
  private int size;
  private boolean closed;

  /** Waits a short while for bytes: how many were read, 0 for none in time, −1 at the end. */
  synchronized int read(byte[] buffer, int offset, int length, long waitMillis) {
    if (size == 0 && !closed) {
      try {
        wait(waitMillis);
      } catch (InterruptedException stop) {
        Thread.currentThread().interrupt();
        return END;
      }
    }
    if (size == 0) {
      return closed ? END : 0;
    }
    int count = Math.min(length, size);
    for (int i = 0; i < count; i++) {
      buffer[offset + i] = ring[(start + i) % ring.length];
    }
    start = (start + count) % ring.length;
    size -= count;
    notifyAll();
    return count;
  }

  /** Writes all bytes; waits while the pipe is full. */
  synchronized void write(byte[] data) throws IOException {
    for (byte one : data) {
      while (size == ring.length && !closed) {
        try {
          wait();
        } catch (InterruptedException stop) {
          Thread.currentThread().interrupt();
          throw new IOException("interrupted while writing", stop);
        }
      }
      if (closed) {
        throw new IOException("the simulated line is closed");
      }
      ring[(start + size) % ring.length] = one;
      size++;
      notifyAll();
    }
  }

  synchronized void close() {
    closed = true;
    notifyAll();
  }

  InputStream input() {
    return new InputStream() {
      @Override
      public int read() {
        byte[] one = new byte[1];
        return read(one, 0, 1) < 0 ? END : one[0] & 0xff;
      }

      @Override
      public int read(byte[] into, int offset, int length) {
        int count = 0;
        while (count == 0 && length > 0) {
          count = Pipe.this.read(into, offset, length, LOOK_MILLIS);
        }
        return count;
      }
    };
  }

  OutputStream output() {
    return new OutputStream() {
      @Override
      public void write(int one) throws IOException {
        Pipe.this.write(new byte[] {(byte) one});
      }

      @Override
      public void write(byte[] data, int offset, int length) throws IOException {
        Pipe.this.write(Arrays.copyOfRange(data, offset, offset + length));
      }
    };
  }
}
