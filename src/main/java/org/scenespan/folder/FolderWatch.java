package org.scenespan.folder;

import java.io.IOException;
import java.nio.file.ClosedWatchServiceException;
import java.nio.file.Path;
import java.nio.file.StandardWatchEventKinds;
import java.nio.file.WatchEvent;
import java.nio.file.WatchKey;
import java.nio.file.WatchService;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Comparator;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.scenespan.session.Input;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The hot folder live: a thread of its own that looks twice a second, and at once where the file
 * system gives a hint. The hint may fail in any way (lost in a burst, never sent by a mount, gone
 * with the folder): it only makes a look come sooner, and of a big folder a cheaper one. What seems
 * to be whole is read while its quiet time runs, and told at the end of that.
 */
public final class FolderWatch implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(FolderWatch.class);

  /** The longest time between two looks. */
  static final Duration POLL = Duration.ofMillis(500);

  /** The shortest: a growing file gives a hint with every write. */
  private static final Duration BREATH = Duration.ofMillis(20);

  private static final Duration JOIN = Duration.ofSeconds(5);

  private final FolderScan scan;
  private final InstantSource clock;
  private final Consumer<Input> inbox;
  private final CountDownLatch closing = new CountDownLatch(1);
  private final Thread thread;

  private FolderWatch(FolderScan scan, InstantSource clock, Consumer<Input> inbox) {
    this.scan = scan;
    this.clock = clock;
    this.inbox = inbox;
    this.thread = new Thread(this::run, "folder");
    thread.setDaemon(true);
  }

  /**
   * Starts to watch.
   *
   * @param inbox takes each input on the watch's own thread; may block
   */
  public static FolderWatch start(FolderScan scan, InstantSource clock, Consumer<Input> inbox) {
    FolderWatch watch = new FolderWatch(scan, clock, inbox);
    watch.thread.start();
    return watch;
  }

  /** Ends the watch and waits for its thread; a picture being decoded may take up to 5 s. */
  @Override
  public void close() {
    closing.countDown();
    scan.warmUp().end();
    thread.interrupt();
    if (thread == Thread.currentThread()) {
      return;
    }
    try {
      thread.join(JOIN.toMillis());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /**
   * Has the virtual machine compile the way of a frame before the first one comes, in the
   * background; the first call counts.
   *
   * @param pause before it begins, so that what must be done at once is done
   */
  public void warmUp(Duration pause) {
    scan.warmUp().begin(pause, clock);
  }

  private void run() {
    try (Hint hint = new Hint(scan)) {
      while (!isClosing()) {
        look();
        if (closing.await(BREATH.toMillis(), TimeUnit.MILLISECONDS)) {
          return;
        }
        hint.await(untilNextLook(), closing);
      }
    } catch (InterruptedException e) {
      if (!isClosing()) {
        LOG.warn("The watch of {} was interrupted", scan.folder());
      }
    }
  }

  private void look() {
    try {
      scan.scan(clock.instant(), this::handOver);
      scan.readAhead(clock.instant());
    } catch (RuntimeException e) {
      // A thread that died here would leave a session waiting for frames for ever.
      LOG.error("A look at {} failed", scan.folder(), e);
    }
  }

  private void handOver(Input input) {
    if (isClosing()) {
      return;
    }
    try {
      inbox.accept(input);
    } catch (RuntimeException e) {
      LOG.error("{} was not taken", input.getClass().getSimpleName(), e);
    }
  }

  private boolean isClosing() {
    return closing.getCount() == 0;
  }

  private Duration untilNextLook() {
    Instant now = clock.instant();
    Duration due =
        Stream.of(scan.nextDue(), scan.nextAhead())
            .flatMap(Optional::stream)
            .map(at -> Duration.between(now, at))
            .min(Comparator.naturalOrder())
            .orElse(POLL);
    if (due.compareTo(BREATH) < 0) {
      return BREATH;
    }
    return due.compareTo(POLL) < 0 ? due : POLL;
  }

  /** The file system's own events, as far as they come. */
  private static final class Hint implements AutoCloseable {
    private final FolderScan scan;
    private final Path folder;
    private WatchService service;
    private WatchKey key;

    Hint(FolderScan scan) {
      this.scan = scan;
      this.folder = scan.folder();
      try {
        this.service = folder.getFileSystem().newWatchService();
      } catch (IOException | UnsupportedOperationException e) {
        LOG.info("No file events for {}: {}", folder, e.toString());
      }
    }

    /** Waits for an event, but no longer than a time, nor beyond the closing. */
    void await(Duration longest, CountDownLatch closing) throws InterruptedException {
      register();
      if (key == null) {
        closing.await(longest.toNanos(), TimeUnit.NANOSECONDS);
        return;
      }
      try {
        WatchKey signalled = service.poll(longest.toNanos(), TimeUnit.NANOSECONDS);
        if (signalled != null) {
          signalled.pollEvents().forEach(this::tell);
          if (!signalled.reset()) {
            key = null;
            scan.hintMissed();
          }
        }
      } catch (ClosedWatchServiceException e) {
        service = null;
        key = null;
      }
    }

    /** What happened does not matter, but to which file; of an overflow nobody knows. */
    private void tell(WatchEvent<?> event) {
      if (event.context() instanceof Path file) {
        scan.hint(file.getFileName().toString());
      } else {
        scan.hintMissed();
      }
    }

    /** A folder that went away takes its key with it; the one that comes back needs a new one. */
    private void register() {
      if (service == null || key != null && key.isValid()) {
        return;
      }
      scan.hintMissed();
      try {
        key =
            folder.register(
                service,
                StandardWatchEventKinds.ENTRY_CREATE,
                StandardWatchEventKinds.ENTRY_MODIFY);
      } catch (IOException | RuntimeException e) {
        key = null;
      }
    }

    @Override
    public void close() {
      if (service != null) {
        try {
          service.close();
        } catch (IOException e) {
          LOG.info("The file events of {} do not close: {}", folder, e.toString());
        }
      }
    }
  }
}
