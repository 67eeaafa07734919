package org.scenespan.dashboard;

import jakarta.servlet.ServletOutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;

/**
 * The journal as server-sent events, after the WHATWG HTML standard, section 9.2: the id of an
 * event is its sequence number, its data the journal's line.
 *
 * <p>Nothing is queued for a client. Each reads the journal on from its own last number, so that a
 * slow one costs nothing and misses nothing; one thread serves them all. Beside the records goes a
 * {@code pulse}, which has no id: the stream's name and the newest number, from which the page sees
 * that it is behind, and that the program behind the address is another one than before.
 */
final class Feed {
  /** Streams open at once; one more is refused. */
  static final int MOST_STREAMS = 256;

  /** Of those, the ones that only this machine's own browsers get. */
  static final int KEPT_FOR_LOCAL = 16;

  /**
   * A browser dispatches all the events that have arrived in one go, in which no touch is answered:
   * a long journal goes out in pieces of about this many bytes, with a pause after each.
   */
  private static final int MOST_BYTES = 32 * 1024;

  private static final Duration PAUSE = Duration.ofMillis(5);

  /** The events after a number as they go over the line, and the number that they reach. */
  record Batch(byte[] events, long last) {}

  private final Records records;
  private final String stream;
  private final Duration pulse;
  private final AtomicInteger places = new AtomicInteger();
  private final Set<OpenStream> streams = ConcurrentHashMap.newKeySet();
  private final ReentrantLock lock = new ReentrantLock();
  private final Condition changed = lock.newCondition();

  /** Guarded by the lock. */
  private long newest;

  /** Guarded by the lock: something came that the streams were not told yet. */
  private boolean due;

  /** Guarded by the lock: a stream has a pause in the middle of what there is. */
  private boolean pausing;

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

  /** Begins to serve, on a thread of its own, until it is closed. */
  void start() {
    Thread rounds = new Thread(this::serve, "dashboard-feed");
    rounds.setDaemon(true);
    rounds.start();
  }

  private void hear(long seq) {
    lock.lock();
    try {
      newest = Math.max(newest, seq);
      due = true;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /** Takes a place for one stream, given back when the stream ends; false if all are taken. */
  boolean enter(boolean local) {
    int most = local ? MOST_STREAMS : MOST_STREAMS - KEPT_FOR_LOCAL;
    return places.getAndUpdate(taken -> taken < most ? taken + 1 : taken) < most;
  }

  /** Begins the stream for which a place was taken. */
  OpenStream open(ServletOutputStream out, long since) {
    OpenStream opened = new OpenStream(this, out, since);
    streams.add(opened);
    out.setWriteListener(opened);
    if (isClosed()) {
      opened.end();
    }
    return opened;
  }

  void leave(OpenStream ended) {
    streams.remove(ended);
    places.decrementAndGet();
  }

  /** Ends every open stream; their clients come back by themselves if they still can. */
  void hangUp() {
    streams.forEach(OpenStream::end);
  }

  private void serve() {
    long left = pulse.toNanos();
    try {
      while (true) {
        left = awaitRound(left);
        if (isClosed()) {
          return;
        }
        if (left <= 0) {
          streams.forEach(OpenStream::owePulse);
          left = pulse.toNanos();
        }
        // Most streams are at the same number: the journal is read once for them.
        Map<Long, Batch> read = new HashMap<>();
        streams.forEach(each -> each.pump(seq -> read.computeIfAbsent(seq, this::after)));
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Asks for a round after a pause. */
  void goOnSoon() {
    lock.lock();
    try {
      pausing = true;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
  }

  /**
   * Waits for something new, for the end of a pause or for the next pulse; answers the time left
   * until that, ns.
   */
  private long awaitRound(long nanos) throws InterruptedException {
    long left = nanos;
    lock.lock();
    try {
      while (!due && !closed && !pausing && left > 0) {
        left = changed.awaitNanos(left);
      }
      if (pausing) {
        long until = left - Math.min(left, PAUSE.toNanos());
        while (!closed && left > until) {
          left = until + changed.awaitNanos(left - until);
        }
      }
      pausing = false;
      due = false;
      return left;
    } finally {
      lock.unlock();
    }
  }

  private boolean isClosed() {
    lock.lock();
    try {
      return closed;
    } finally {
      lock.unlock();
    }
  }

  /** The records after a number, or the first of them. */
  Batch after(long seq) {
    List<String> lines = records.since(seq);
    long last = seq;
    StringBuilder events = new StringBuilder();
    for (String line : lines) {
      if (events.length() >= MOST_BYTES) {
        break;
      }
      last++;
      events.append("id: ").append(last).append('\n');
      // The journal's lines hold no line break; one would cut the event in two.
      events.append("data: ").append(line).append("\n\n");
    }
    return new Batch(events.toString().getBytes(StandardCharsets.UTF_8), last);
  }

  String pulseAt(long last) {
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

  /** Ends every stream for good. */
  void close() {
    lock.lock();
    try {
      closed = true;
      changed.signalAll();
    } finally {
      lock.unlock();
    }
    hangUp();
  }
}
