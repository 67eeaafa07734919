package org.scenespan.control;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import org.scenespan.folder.FolderWatch;
import org.scenespan.folder.HotFolder;
import org.scenespan.session.Effect;
import org.scenespan.session.Input;
import org.scenespan.session.State;
import org.scenespan.session.TetherSetup;
import org.scenespan.trigger.PortOpener;
import org.scenespan.trigger.TriggerEdge;

/**
 * A session in real time. The thread that runs it owns the state; the trigger, the folder and the
 * dashboard live on their own threads and hand inputs into one bounded inbox.
 */
final class LiveRun implements Running, Rig {
  /** Inputs that wait; an edge that finds it full waits too. */
  private static final int MOST_INPUTS = 1024;

  /** The longest nap between two looks at the clock. */
  private static final Duration NAP = Duration.ofSeconds(1);

  /** What a first release has for itself before the way of its frame is compiled. */
  private static final Duration AFTER_RELEASE = Duration.ofMillis(50);

  private final Workbench bench;
  private final PortOpener opener;
  private final Feed feed;
  private final InstantSource clock;
  private final BlockingQueue<Input> inbox = new ArrayBlockingQueue<>(MOST_INPUTS);
  private Optional<Instant> wake = Optional.empty();
  private Optional<Effect.ReleaseAt> timed = Optional.empty();
  private Optional<TriggerEdge> trigger = Optional.empty();
  private Optional<FolderWatch> watch = Optional.empty();
  private volatile State seen;

  LiveRun(Workbench bench, PortOpener opener, Feed feed, InstantSource clock) {
    this.bench = bench;
    this.opener = opener;
    this.feed = feed;
    this.clock = clock;
    this.seen = bench.state();
  }

  @Override
  public State state() {
    return seen;
  }

  @Override
  public void ask(Input input) {
    inbox.offer(input);
  }

  @Override
  public State run() throws IOException, InterruptedException {
    if (bench.profile().isEmpty()) {
      return watched();
    }
    try (TriggerEdge edge = TriggerEdge.open(bench.profile().get(), opener, clock, this::deliver)) {
      trigger = Optional.of(edge);
      return watched();
    }
  }

  private State watched() throws IOException, InterruptedException {
    FolderWatch folder = FolderWatch.start(bench.scan(HotFolder.QUIET), clock, this::deliver);
    watch = Optional.of(folder);
    // A tether's photographer may press the camera's own button before any release is asked for.
    if (trigger.isEmpty() || bench.setup() instanceof TetherSetup) {
      folder.warmUp(Duration.ZERO);
    }
    try {
      return converse();
    } finally {
      folder.close();
    }
  }

  private State converse() throws IOException, InterruptedException {
    Loop loop = new Loop(bench.state(), bench.journal(), this, feed);
    if (bench.state().setup().isEmpty()) {
      loop.open(bench.setup(), clock.instant());
    } else {
      loop.take(new Input.Begun(), clock.instant());
    }
    seen = loop.state();
    while (!loop.state().isClosed()) {
      Input input = next();
      if (input != null) {
        loop.take(input, clock.instant());
        seen = loop.state();
      }
    }
    return loop.state();
  }

  /** The next input; null if none came before it was time for another look at the clock. */
  private Input next() throws InterruptedException {
    if (timed.isPresent()) {
      Duration left = Duration.between(clock.instant(), timed.get().at());
      if (!left.isNegative() && !left.isZero()) {
        // To the nanosecond: what comes in meanwhile is taken, and then the rest is waited for.
        Input input = inbox.poll(left.toNanos(), TimeUnit.NANOSECONDS);
        if (input != null || clock.instant().isBefore(timed.get().at())) {
          return input;
        }
      }
      Effect.ReleaseAt release = timed.get();
      timed = Optional.empty();
      if (clock.instant().isAfter(release.latest())) {
        return release.missed();
      }
      order(release);
    }
    if (wake.isPresent() && !wake.get().isAfter(clock.instant())) {
      wake = Optional.empty();
      return new Input.ClockTicked();
    }
    Duration left =
        wake.map(instant -> Duration.between(clock.instant(), instant))
            .filter(rest -> rest.compareTo(NAP) < 0)
            .orElse(NAP);
    return inbox.poll(Math.max(0, left.toMillis()) + 1, TimeUnit.MILLISECONDS);
  }

  private void deliver(Input input) {
    try {
      inbox.put(input);
    } catch (InterruptedException closing) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public void perform(Effect effect) {
    if (effect instanceof Effect.WakeAt at) {
      wake = Optional.of(at.instant());
    } else if (effect instanceof Effect.HoldAgainst hold) {
      bench.desk().hold(hold.file(), hold.patch());
    } else if (effect instanceof Effect.ReleaseAt release) {
      timed = Optional.of(release);
    } else {
      order(effect);
    }
  }

  private void order(Effect effect) {
    trigger.ifPresent(edge -> Orders.of(effect).ifPresent(edge::perform));
    if (effect instanceof Effect.Release || effect instanceof Effect.ReleaseAt) {
      watch.ifPresent(folder -> folder.warmUp(AFTER_RELEASE));
    }
  }
}
