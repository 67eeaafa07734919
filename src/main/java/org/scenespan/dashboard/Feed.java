package org.scenespan.dashboard;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;

/**
 * The journal as server-sent events, after the WHATWG HTML standard, section 9.2: the id of an
 * event is its sequence number, its data the journal's line.
 *
 * <p>Nothing is queued for a client. Each reads the journal on from its own last number, so that a
 * slow one costs nothing and misses nothing. Beside the records goes a {@code pulse}, which has no
 * id: the stream's name and the newest number, from which the page sees that it is behind, and that
 * the program behind the address is another one than before.
 */
final class Feed {
  /** Streams open at once; one more is refused. */
  static final int MOST_STREAMS = 64;

  private final Records records;
  private final String stream;
  private final Duration pulse;
  private final Semaphore places = new Semaphore(MOST_STREAMS);
  private final ReentrantLock lock = new ReentrantLock();
  private final Condition changed = lock.newCondition();

  /** Guarded by the lock. */
  private long newest;

  /** Guarded by the lock: counts each {@link #hangUp}, and streams older than the count end. */
  private int hungUp;

  /** Guarded by the lock: no stream begins any more. */
  private boolean closed;

  /**
   * @param stream a name that differs between runs of the program; letters and digits
   * @param pulse the longest silence on a stream
   */
  Feed(Records records, String stream, Duration pulse) {
    this.records = records;
    this.stream = stream;
    this.pulse = pulse;
    records.listen(this::hear);
  }

  private void hear(long seq) {
    lock.lock();
    try {
      newest = Math.max(newest, seq);
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /** Takes a place for one stream, to be given back with {@link #leave}; false if all are taken. */
  boolean enter() {
    return places.tryAcquire();
  }

  void leave() {
    places.release();
  }

  /** Ends every open stream; their clients come back by themselves if they still can. */
  void hangUp() {
    lock.lock();
    try {
      hungUp++;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /**
   * Writes the records after a number, and those to come, until the feed hangs up.
   *
   * @throws IOException when the client is gone
   */
  void copyTo(OutputStream out, long since) throws IOException, InterruptedException {
    int opened = hungUp();
    long last = since;
    write(out, pulseAt(last));
    while (isOpen(opened)) {
      List<String> lines = records.since(last);
      StringBuilder events = new StringBuilder();
      for (String line : lines) {
        last++;
        events.append("id: ").append(last).append('\n');
        // The journal's lines hold no line break; one would cut the event in two.
        events.append("data: ").append(line).append("\n\n");
      }
      if (lines.isEmpty() && !awaitNewer(last, opened)) {
        events.append(pulseAt(last));
      }
      if (!events.isEmpty()) {
        write(out, events.toString());
      }
    }
  }

  /** Whether something newer came, or the feed hung up, before the next pulse is due. */
  private boolean awaitNewer(long last, int opened) throws InterruptedException {
    long left = pulse.toNanos();
    lock.lock();
    try {
      while (newest <= last && hungUp == opened && !closed) {
        if (left <= 0) {
          return false;
        }
        left = changed.awaitNanos(left);
      }
      return true;
    } finally {
      lock.unlock();
    }
  }

  private int hungUp() {
    lock.lock();
    try {
      return hungUp;
    } finally {
      lock.unlock();
    }
  }

  private boolean isOpen(int opened) {
    lock.lock();
    try {
      return hungUp == opened && !closed;
    } finally {
      lock.unlock();
    }
  }

  private String pulseAt(long last) {
    lock.lock();
    try {
      return "event: pulse\ndata: {\"stream\":\""
          + stream
          + "\",\"newest\":"
          + Math.max(newest, last)
          + "}\n\n";
    } finally {
      lock.unlock();
    }
  }

  private static void write(OutputStream out, String text) throws IOException {
    out.write(text.getBytes(StandardCharsets.UTF_8));
    out.flush();
  }

  /** Ends every stream for good; false if one has not ended in time. */
  boolean close(Duration longest) throws InterruptedException {
    lock.lock();
    try {
      closed = true;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
    if (!places.tryAcquire(MOST_STREAMS, longest.toNanos(), TimeUnit.NANOSECONDS)) {
      return false;
    }
    places.release(MOST_STREAMS);
    return true;
  }
}
