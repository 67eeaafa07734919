package org.scenespan.rehearsal;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Arrays;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/**
 * A {@link SimulatedRig} that lives by the clock, at the device's end of a pair of streams. Two
 * daemon threads: one reads, one owns the rig. The streams belong to the caller and stay open; an
 * input that has ended lets the rig finish what it has begun.
 */
public final class Emulation implements AutoCloseable {
  /** Pieces of input that wait for the rig; a reader of more waits itself. */
  private static final int MOST_PIECES = 64;

  private static final int PIECE_BYTES = 1024;

  /** At the most this long between two looks at the clock, which may be stepped. */
  private static final long LONGEST_WAIT_MILLIS = 1000;

  /** Stands in the queue for the end of the input. */
  private static final byte[] END = new byte[0];

  private final SimulatedRig rig;
  private final InputStream in;
  private final OutputStream out;
  private final InstantSource clock;
  private final BlockingQueue<byte[]> pieces = new ArrayBlockingQueue<>(MOST_PIECES);
  private final CountDownLatch ended = new CountDownLatch(1);
  private final Thread reader = new Thread(this::read, "emulation reader");
  private final Thread owner = new Thread(this::live, "emulation");
  private volatile Optional<RuntimeException> failure = Optional.empty();

  private Emulation(SimulatedRig rig, InputStream in, OutputStream out, InstantSource clock) {
    this.rig = rig;
    this.in = in;
    this.out = out;
    this.clock = clock;
  }

  /**
   * Starts to serve.
   *
   * @param in what the controller says
   * @param out what the controller hears; flushed after each reply
   */
  public static Emulation start(
      SimulatedRig rig, InputStream in, OutputStream out, InstantSource clock) {
    Emulation emulation = new Emulation(rig, in, out, clock);
    emulation.reader.setDaemon(true);
    emulation.owner.setDaemon(true);
    emulation.reader.start();
    emulation.owner.start();
    return emulation;
  }

  /**
   * Waits until the input has ended and everything begun is finished, or the rig was closed.
   *
   * @return what ended it, if that was a failure
   */
  public Optional<RuntimeException> awaitEnd() throws InterruptedException {
    ended.await();
    return failure;
  }

  /** Whether it ended within a time. */
  public boolean awaitEnd(Duration longest) throws InterruptedException {
    return ended.await(longest.toMillis(), TimeUnit.MILLISECONDS);
  }

  /** Stops at once; frames that are not yet written are lost, as when a camera is switched off. */
  @Override
  public void close() {
    owner.interrupt();
    reader.interrupt();
  }

  private void read() {
    byte[] bytes = new byte[PIECE_BYTES];
    try {
      try {
        for (int count = in.read(bytes); count >= 0; count = in.read(bytes)) {
          pieces.put(Arrays.copyOf(bytes, count));
        }
      } catch (IOException e) {
        // A pulled cable ends the input as its end does.
      }
      pieces.put(END);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void live() {
    try {
      boolean open = true;
      while (open || rig.nextDue().isPresent()) {
        byte[] piece = pieces.poll(waitMillis(), TimeUnit.MILLISECONDS);
        Instant now = clock.instant();
        if (piece == END) {
          open = false;
        } else if (piece != null && piece.length > 0) {
          rig.receive(piece, now);
        }
        rig.runDue(now);
        open &= say(rig.takeOutput());
      }
    } catch (RuntimeException e) {
      failure = Optional.of(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      ended.countDown();
    }
  }

  /** Answers false when nobody hears any more: the camera then finishes its files in silence. */
  private boolean say(byte[] said) {
    try {
      if (said.length > 0) {
        out.write(said);
        out.flush();
      }
      return true;
    } catch (IOException e) {
      return false;
    }
  }

  private long waitMillis() {
    Optional<Instant> due = rig.nextDue();
    if (due.isEmpty()) {
      return LONGEST_WAIT_MILLIS;
    }
    // Rounded up: waking a part of a millisecond early would spin.
    long millis = Duration.between(clock.instant(), due.get()).toMillis() + 1;
    return Math.max(0, Math.min(LONGEST_WAIT_MILLIS, millis));
  }
}
