package org.scenespan.rehearsal;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.time.Duration;
import java.util.Objects;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;

/**
 * A serial cable within the program: what one end writes, the other reads, and closing either end
 * pulls it. Unlike the library's pipes it does not care which threads use it, and a read can give
 * up after a time.
 */
public final class Cable {
  /** Bytes on their way in one direction; a writer of more waits. */
  private static final int CAPACITY_BYTES = 16_384;

  private final Lane towardsDevice = new Lane();
  private final Lane towardsHost = new Lane();
  private final End host = new End(towardsHost, towardsDevice);
  private final End device = new End(towardsDevice, towardsHost);

  /** The controller's end. */
  public End host() {
    return host;
  }

  /** The trigger's end. */
  public End device() {
    return device;
  }

  /** One end of the cable. */
  public final class End implements Closeable {
    private final Lane from;
    private final Lane to;

    private End(Lane from, Lane to) {
      this.from = from;
      this.to = to;
    }

    /**
     * Waits for bytes.
     *
     * @return how many were read; 0 if none came in time; −1 if the cable is pulled
     */
    public int read(byte[] buffer, Duration longest) throws InterruptedException {
      return from.read(buffer, 0, buffer.length, longest.toNanos());
    }

    /**
     * Writes all bytes, waiting for room.
     *
     * @throws IOException if the cable is pulled
     */
    public void write(byte[] bytes) throws IOException {
      to.write(bytes, 0, bytes.length);
    }

    /** The bytes that come, as a stream; ends when the cable is pulled. */
    public InputStream input() {
      return new InputStream() {
        @Override
        public int read() throws IOException {
          byte[] one = new byte[1];
          return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
        }

        @Override
        public int read(byte[] target, int offset, int count) throws IOException {
          try {
            return from.read(target, offset, count, Long.MAX_VALUE);
          } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("interrupted while reading", e);
          }
        }
      };
    }

    /** The bytes that go, as a stream. */
    public OutputStream output() {
      return new OutputStream() {
        @Override
        public void write(int value) throws IOException {
          to.write(new byte[] {(byte) value}, 0, 1);
        }

        @Override
        public void write(byte[] source, int offset, int count) throws IOException {
          to.write(source, offset, count);
        }
      };
    }

    /** Pulls the cable. */
    @Override
    public void close() {
      towardsDevice.pull();
      towardsHost.pull();
    }
  }

  /** One direction. */
  private static final class Lane {
    private final byte[] ring = new byte[CAPACITY_BYTES];
    private int first;
    private int held;
    private boolean pulled;
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition changed = lock.newCondition();

    int read(byte[] target, int offset, int count, long longestNanos) throws InterruptedException {
      Objects.checkFromIndexSize(offset, count, target.length);
      lock.lockInterruptibly();
      try {
        long left = longestNanos;
        while (held == 0 && !pulled && left > 0 && count > 0) {
          left = changed.awaitNanos(left);
        }
        if (pulled) {
          return -1;
        }
        int got = Math.min(count, held);
        for (int i = 0; i < got; i++) {
          target[offset + i] = ring[(first + i) % CAPACITY_BYTES];
        }
        first = (first + got) % CAPACITY_BYTES;
        held -= got;
        changed.signalAll();
        return got;
      } finally {
        lock.unlock();
      }
    }

    void write(byte[] source, int offset, int count) throws IOException {
      Objects.checkFromIndexSize(offset, count, source.length);
      lock.lock();
      try {
        for (int i = 0; i < count; i++) {
          while (held == CAPACITY_BYTES && !pulled) {
            changed.await();
          }
          if (pulled) {
            throw new IOException("the cable is pulled");
          }
          ring[(first + held++) % CAPACITY_BYTES] = source[offset + i];
          if (held == CAPACITY_BYTES) {
            changed.signalAll();
          }
        }
        changed.signalAll();
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        throw new IOException("interrupted while writing", e);
      } finally {
        lock.unlock();
      }
    }

    void pull() {
      lock.lock();
      try {
        pulled = true;
        changed.signalAll();
      } finally {
        lock.unlock();
      }
    }
  }
}
