package org.scenespan.control;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import java.util.Queue;
import java.util.Set;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.scenespan.folder.FolderScan;
import org.scenespan.folder.HotFolder;
import org.scenespan.rehearsal.SimulatedRig;
import org.scenespan.session.Effect;
import org.scenespan.session.Input;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.State;
import org.scenespan.trigger.TriggerDesk;
import org.scenespan.trigger.TriggerEdge;

/**
 * A simulated session in virtual time: one thread, no waiting, everything ordered by when it is
 * due. The session, the journal, the dialogue, the hot folder and the frames are the real ones;
 * only the clock is not.
 */
final class VirtualRun implements Running, Rig {
  /** How often the folder is looked at while nothing is known to be on its way. */
  private static final Duration LOOK = Duration.ofMillis(500);

  /** The same in a lapse, which looks whenever its camera wrote something. */
  private static final Duration LAPSE_LOOK = Duration.ofSeconds(30);

  private static final int MOST_WISHES = 64;

  private final Workbench bench;
  private final Loop loop;
  private final SimulatedRig simulated;
  private final FolderScan scan;
  private final TriggerDesk desk;
  private final Deque<Input> inbox = new ArrayDeque<>();
  private final Queue<Input> wishes = new ArrayBlockingQueue<>(MOST_WISHES);
  private Optional<Instant> wake = Optional.empty();
  private Optional<Effect.ReleaseAt> timed = Optional.empty();
  private Instant nextLook;
  private Instant now;
  private Instant pluggedAt = Instant.MIN;
  private final Duration look;

  VirtualRun(Workbench bench, SimulatedRig simulated, Feed feed, Instant start) {
    this(bench, simulated, feed, start, rig -> rig);
  }

  /**
   * @param wiring what stands between the loop and this rig, such as a power cut
   */
  VirtualRun(
      Workbench bench,
      SimulatedRig simulated,
      Feed feed,
      Instant start,
      UnaryOperator<Rig> wiring) {
    this.bench = bench;
    this.simulated = simulated;
    this.scan = bench.scan(HotFolder.QUIET);
    this.look = bench.setup() instanceof LapseSetup ? LAPSE_LOOK : LOOK;
    this.desk =
        new TriggerDesk(bench.profile().orElseThrow(), TriggerEdge.REOPEN_AFTER, inbox::add);
    this.loop = new Loop(bench.state(), bench.journal(), wiring.apply(this), feed);
    this.now = start;
    this.nextLook = start;
  }

  @Override
  public void ask(Input input) {
    wishes.offer(input);
  }

  @Override
  public State run() throws IOException {
    begin();
    while (!loop.state().isClosed()) {
      advance();
    }
    return loop.state();
  }

  /** Opens the session, or goes on with it. */
  void begin() throws IOException {
    if (bench.state().setup().isEmpty()) {
      loop.open(bench.setup(), now);
    } else {
      loop.take(new Input.Begun(), now);
    }
  }

  @Override
  public State state() {
    return loop.state();
  }

  Instant now() {
    return now;
  }

  /** The trigger's cable is out for a time; what is said meanwhile is lost. */
  void unplug(Duration time) {
    pluggedAt = now.plus(time);
    simulated.takeOutput();
    desk.lost("the port is gone", now);
  }

  /** This machine is asleep for a time; what happens meanwhile is found when it wakes. */
  void sleep(Duration time) {
    now = now.plus(time);
  }

  /** Takes one input, or goes on to the next instant at which something is due. */
  void advance() throws IOException {
    Input wish = wishes.poll();
    if (wish != null) {
      inbox.add(wish);
    }
    if (!inbox.isEmpty()) {
      loop.take(inbox.remove(), now);
      return;
    }
    releaseTimed();
    desk.tick(now);
    talk();
    if (!inbox.isEmpty()) {
      return;
    }
    Instant due = nextDue();
    now = due.isAfter(now) ? due : now;
    simulated.runDue(now);
    hint();
    hear();
    if (desk.wantsPort(now)) {
      if (now.isBefore(pluggedAt)) {
        desk.notOpened(now);
      } else {
        desk.opened(now);
      }
    }
    desk.tick(now);
    talk();
    if (!nextLook.isAfter(now)) {
      inbox.addAll(scan.scan(now));
      Instant regular = now.plus(look);
      nextLook =
          scan.nextDue().filter(it -> it.isAfter(now) && it.isBefore(regular)).orElse(regular);
    }
    if (wake.isPresent() && !wake.get().isAfter(now)) {
      wake = Optional.empty();
      inbox.add(new Input.ClockTicked());
    }
  }

  /** As a disk of this machine does, in a long session. */
  private void hint() {
    if (look == LAPSE_LOOK) {
      Set<String> written = simulated.takeWritten();
      written.forEach(scan::hint);
      nextLook = written.isEmpty() ? nextLook : now;
    }
  }

  private void releaseTimed() {
    if (timed.isPresent() && !timed.get().at().isAfter(now)) {
      Effect.ReleaseAt release = timed.get();
      timed = Optional.empty();
      if (now.isAfter(release.latest())) {
        inbox.add(release.missed());
      } else {
        Orders.of(release).ifPresent(desk::perform);
      }
    }
  }

  private Instant nextDue() {
    return Stream.of(
            wake,
            timed.map(Effect.ReleaseAt::at),
            desk.nextDue(),
            simulated.nextDue(),
            Optional.of(nextLook))
        .flatMap(Optional::stream)
        .min(Instant::compareTo)
        .orElseThrow();
  }

  /** What the controller says reaches the device at once, and its answers come back. */
  private void talk() {
    byte[] said = desk.takeOutput();
    while (said.length > 0) {
      simulated.receive(said, now);
      hear();
      said = desk.takeOutput();
    }
  }

  private void hear() {
    byte[] answered = simulated.takeOutput();
    if (answered.length > 0 && !now.isBefore(pluggedAt)) {
      desk.receive(answered, now);
    }
  }

  @Override
  public void perform(Effect effect) {
    if (effect instanceof Effect.WakeAt at) {
      wake = Optional.of(at.instant());
    } else if (effect instanceof Effect.ReleaseAt release) {
      timed = Optional.of(release);
    } else {
      Orders.of(effect).ifPresent(desk::perform);
    }
  }
}
