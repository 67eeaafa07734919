package org.scenespan.trigger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.rehearsal.PseudoTerminal;
import org.scenespan.session.Input;

/**
 * A cable that is pulled and put in again a thousand times, each time under another name behind one
 * link: the edge is back each time, and nothing piles up.
 */
@Timeout(120)
@EnabledOnOs(value = OS.LINUX, disabledReason = "counts what /proc tells")
class ReconnectIT {
  private static final int RECONNECTS = 1000;

  /** Cables beside each other, for pulling one takes a moment. */
  private static final int CABLES = 20;

  /** Until all that is made once is there, for each cable. */
  private static final int WARM_UP = 5;

  /** What a moment may add: a thread that is about to end, a folder being listed. */
  private static final long SLACK = 4;

  @TempDir private Path folder;

  private final Profile profile = new Profiles(Optional.empty()).load("reference-trigger");

  @Test
  void aThousandReconnectsLeaveNothingBehind() throws Exception {
    List<Cable> cables = new ArrayList<>();
    ExecutorService hands = Executors.newFixedThreadPool(CABLES);
    try {
      for (int i = 0; i < CABLES; i++) {
        cables.add(new Cable(folder.resolve("by-id-" + i)));
      }
      reconnect(cables, hands, WARM_UP);
      long descriptors = descriptors();
      long threads = Thread.activeCount();
      reconnect(cables, hands, RECONNECTS / CABLES);
      long more = descriptors() - descriptors;
      assertTrue(more <= SLACK, more + " descriptors more than before");
      more = Thread.activeCount() - threads;
      assertTrue(more <= SLACK, more + " threads more than before");
    } finally {
      hands.shutdownNow();
      cables.forEach(Cable::close);
    }
  }

  private static void reconnect(List<Cable> cables, ExecutorService hands, int times)
      throws Exception {
    List<Future<?>> done = new ArrayList<>();
    for (Cable cable : cables) {
      done.add(hands.submit(() -> cable.pullAndPlug(times)));
    }
    for (Future<?> one : done) {
      one.get();
    }
  }

  /** An edge, a link and the pseudo-terminal behind it, with a small device at its end. */
  private final class Cable implements AutoCloseable {
    private final BlockingQueue<Input> inputs = new LinkedBlockingQueue<>();
    private final Path link;
    private final TriggerEdge edge;
    private PseudoTerminal terminal;

    Cable(Path link) throws Exception {
      this.link = link;
      this.terminal = plug();
      this.edge =
          TriggerEdge.open(
              profile,
              () -> SerialTriggerPort.open(link.toString(), profile.line()),
              InstantSource.system(),
              inputs::add,
              Duration.ofMillis(1));
      edge.perform(new Order.Greet());
      assertInstanceOf(Input.TriggerGreeted.class, next());
    }

    Void pullAndPlug(int times) throws Exception {
      for (int i = 0; i < times; i++) {
        // Made before the other goes, so that it cannot have its name.
        PseudoTerminal other = plug();
        assertNotEquals(terminal.slave(), other.slave());
        terminal.close();
        terminal = other;
        assertInstanceOf(Input.TriggerLost.class, next());
        assertInstanceOf(Input.TriggerGreeted.class, next());
      }
      assertEquals(0, inputs.size());
      return null;
    }

    /** Points the link to a new pseudo-terminal. */
    private PseudoTerminal plug() throws IOException {
      PseudoTerminal fresh = PseudoTerminal.open();
      Thread device = new Thread(() -> answer(fresh), "device");
      device.setDaemon(true);
      device.start();
      Path beside = folder.resolve(link.getFileName() + "-fresh");
      Files.createSymbolicLink(beside, fresh.slave());
      Files.move(beside, link, StandardCopyOption.ATOMIC_MOVE);
      return fresh;
    }

    private Input next() throws InterruptedException {
      Input input = inputs.poll(30, TimeUnit.SECONDS);
      assertTrue(input != null, "no input came");
      return input;
    }

    @Override
    public void close() {
      edge.close();
      terminal.close();
    }
  }

  private static void answer(PseudoTerminal terminal) {
    SmallDevice device = new SmallDevice();
    byte[] buffer = new byte[256];
    try {
      for (int n = terminal.input().read(buffer); n >= 0; n = terminal.input().read(buffer)) {
        String said = device.hear(Arrays.copyOf(buffer, n));
        terminal.output().write(said.getBytes(StandardCharsets.US_ASCII));
      }
    } catch (IOException pulled) {
      // As its end.
    }
  }

  private static long descriptors() throws IOException {
    try (Stream<Path> open = Files.list(Path.of("/proc/self/fd"))) {
      return open.count();
    }
  }
}
