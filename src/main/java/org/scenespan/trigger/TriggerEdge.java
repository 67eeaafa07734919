package org.scenespan.trigger;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.scenespan.session.Input;

/**
 * Keeps a trigger at hand in real time: takes orders, talks to the device, hands over what came of
 * it. When the port goes away or a greeting stays without answer it says so once, and then opens
 * and greets again and again until the device is back.
 */
public final class TriggerEdge implements AutoCloseable {
  /** Reads and other news that wait; a reader that finds it full lets the system hold its bytes. */
  private static final int MAX_WAITING_SIGNALS = 256;

  /** How long to wait before a lost port is opened again. */
  public static final Duration REOPEN_AFTER = Duration.ofSeconds(1);

  /** How long to sleep at most while time matters, lest a clock that is set back stops us. */
  private static final long LONGEST_NAP_MILLIS = 1_000;

  /** How long closing waits for the threads. */
  private static final long CLOSE_LIMIT_MILLIS = 3_000;

  private final PortOpener opener;
  private final InstantSource clock;
  private final TriggerDesk desk;
  private final Queue<Order> orders = new ArrayBlockingQueue<>(TriggerDesk.MAX_WAITING_ORDERS);
  private final BlockingQueue<PortReader.Signal> signals =
      new ArrayBlockingQueue<>(MAX_WAITING_SIGNALS);
  private final Thread thread = new Thread(this::run, "scenespan-trigger");
  private volatile boolean closing;
  private volatile Optional<Instant> pressedAt = Optional.empty();

  // What follows belongs to the thread.
  private Optional<PortReader> link;

  private TriggerEdge(
      Profile profile,
      PortOpener opener,
      TriggerPort port,
      InstantSource clock,
      Consumer<Input> inputs,
      Duration reopenAfter) {
    this.opener = opener;
    this.clock = clock;
    this.desk = new TriggerDesk(profile, reopenAfter, inputs);
    this.link = Optional.of(PortReader.start(port, signals));
  }

  /**
   * Opens the port and starts to take orders; it does not greet by itself.
   *
   * @param inputs called on the edge's own thread; it may block for a moment, but not throw
   * @throws IOException if the port cannot be opened, as the opener says it
   */
  public static TriggerEdge open(
      Profile profile, PortOpener opener, InstantSource clock, Consumer<Input> inputs)
      throws IOException {
    return open(profile, opener, clock, inputs, REOPEN_AFTER);
  }

  static TriggerEdge open(
      Profile profile,
      PortOpener opener,
      InstantSource clock,
      Consumer<Input> inputs,
      Duration reopenAfter)
      throws IOException {
    TriggerPort port = opener.open();
    TriggerEdge edge = new TriggerEdge(profile, opener, port, clock, inputs, reopenAfter);
    edge.thread.setDaemon(true);
    edge.thread.start();
    return edge;
  }

  /**
   * Has an order done after those that wait. What comes of it is handed over as an input; when the
   * trigger is away, at once and as a failure.
   *
   * @throws IllegalStateException if too many orders wait already
   */
  public void perform(Order order) {
    if (!orders.offer(order)) {
      throw new IllegalStateException(
          "more than " + TriggerDesk.MAX_WAITING_ORDERS + " orders wait");
    }
    // If the queue is full, the thread is awake anyway and looks for orders after each signal.
    signals.offer(PortReader.Signal.WAKE);
  }

  /** When the last release was put out, by the edge's clock, if there was one. */
  public Optional<Instant> pressedAt() {
    return pressedAt;
  }

  /** Closes the port and ends the threads; an order that is under way is dropped. */
  @Override
  public void close() {
    closing = true;
    signals.offer(PortReader.Signal.WAKE);
    if (Thread.currentThread() == thread) {
      return;
    }
    try {
      thread.join(CLOSE_LIMIT_MILLIS);
      if (thread.isAlive()) {
        thread.interrupt();
        thread.join(CLOSE_LIMIT_MILLIS);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void run() {
    try {
      while (!closing) {
        Optional<PortReader.Signal> signal = awaitSignal();
        Instant now = clock.instant();
        if (signal.isPresent()) {
          take(signal.get(), now);
        }
        if (desk.wantsPort(now)) {
          reopen(now);
        }
        // What finds no room here waits in the queue, whose bound is told to the caller.
        while (desk.hasRoom() && !orders.isEmpty()) {
          desk.perform(orders.remove());
        }
        desk.tick(now);
        pressedAt = desk.pressedAt();
        pump(now);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      desk.letGo();
      pump(clock.instant());
      link.ifPresent(PortReader::close);
    }
  }

  private Optional<PortReader.Signal> awaitSignal() throws InterruptedException {
    Optional<Instant> due = desk.nextDue();
    if (due.isEmpty()) {
      return Optional.of(signals.take());
    }
    Duration left = Duration.between(clock.instant(), due.get());
    // One more, because a rest below a millisecond would make it spin.
    long millis = left.isNegative() ? 0 : Math.min(left.toMillis() + 1, LONGEST_NAP_MILLIS);
    return Optional.ofNullable(signals.poll(millis, TimeUnit.MILLISECONDS));
  }

  private void take(PortReader.Signal signal, Instant now) {
    if (link.isEmpty() || signal.reader() != link.get()) {
      return; // A wake-up, or the last words of a port that was given up.
    }
    if (signal.isGone()) {
      desk.lost("the port is gone", now);
    } else {
      desk.receive(signal.bytes(), now);
    }
  }

  /** Switches and writes what is to be, and closes a port that was given up. */
  private void pump(Instant now) {
    List<Switching> switchings = desk.takeSwitchings();
    byte[] bytes = desk.takeOutput();
    if (link.isPresent() && desk.isLinked()) {
      try {
        for (Switching switching : switchings) {
          link.get().port().set(switching.line(), switching.closed());
        }
        if (bytes.length > 0) {
          link.get().port().write(bytes);
        }
      } catch (IOException e) {
        desk.lost(e.getMessage(), now);
      }
    }
    if (!desk.isLinked() && link.isPresent()) {
      link.get().close();
      link = Optional.empty();
    }
  }

  private void reopen(Instant now) {
    try {
      link = Optional.of(PortReader.start(opener.open(), signals));
      desk.opened(now);
    } catch (IOException stillAway) {
      desk.notOpened(now);
    }
  }
}
