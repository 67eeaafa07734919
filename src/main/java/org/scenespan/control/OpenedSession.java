package org.scenespan.control;

import java.io.IOException;
import java.net.InetAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import org.scenespan.dashboard.Dashboard;
import org.scenespan.folder.HotFolder;
import org.scenespan.frame.CameraProfile;
import org.scenespan.journal.Journal;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.rehearsal.Faults;
import org.scenespan.rehearsal.Scene;
import org.scenespan.session.Gear;
import org.scenespan.session.Input;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.Setup;
import org.scenespan.session.State;
import org.scenespan.trigger.PortOpener;
import org.scenespan.trigger.Profile;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;
import org.scenespan.wire.MalformedRecord;

/** A session whose journal is open: ready to be run once, and to be watched on a page. */
public final class OpenedSession implements AutoCloseable {
  /** When the clock of a rehearsal in virtual time begins, so that a seed repeats every byte. */
  public static final Instant VIRTUAL_START = Instant.parse("2026-05-04T03:00:00Z");

  private final Workbench bench;
  private final SessionPage page;
  private volatile Running running;

  /**
   * @param soFar the records that the journal has already
   */
  private OpenedSession(Workbench bench, List<JournalRecord> soFar) {
    this.bench = bench;
    this.page = new SessionPage(bench, soFar, this::running);
  }

  /**
   * Opens a new session. Nothing is created if its setup or its folder is wrong.
   *
   * @param sessions where it is kept
   * @param name the wished name
   * @param profile the trigger's; absent of a session without a trigger
   * @param setup from the name it gets to all that it is started with
   * @throws IllegalArgumentException if the setup contradicts itself
   * @throws IOException if the hot folder cannot be listed, or the session not be kept
   */
  public static OpenedSession fresh(
      Sessions sessions, String name, Optional<Profile> profile, Function<String, Setup> setup)
      throws IOException {
    return fresh(sessions, name, profile, Optional.empty(), setup);
  }

  /**
   * Opens a new session with a camera that was measured.
   *
   * @param camera by whose response JPEGs are taken
   */
  public static OpenedSession fresh(
      Sessions sessions,
      String name,
      Optional<Profile> profile,
      Optional<CameraProfile> camera,
      Function<String, Setup> setup)
      throws IOException {
    Setup wished = setup.apply(name);
    wished.check();
    Gear gear = wished.gear();
    if (gear.rehearsal().flatMap(Gear.Rehearsal::light).isPresent()) {
      Workbench.curve(gear.rehearsal().get().light().get());
    } else if (gear.rehearsal().isPresent()) {
      Gear.Rehearsal rehearsal = gear.rehearsal().get();
      // A scene that code draws is there; a file may not be one.
      if (!Scene.names().contains(rehearsal.scene())) {
        Workbench.scene(rehearsal.scene(), rehearsal.sceneEv());
      }
    } else {
      HotFolder.names(Path.of(gear.folder()));
    }
    Path directory = sessions.create(name);
    Setup settled = setup.apply(directory.getFileName().toString());
    if (gear.rehearsal().isPresent()) {
      Files.createDirectories(Workbench.folder(directory, settled.gear()));
    }
    if (camera.isPresent()) {
      Workbench.keepCamera(directory, camera.get());
    }
    return new OpenedSession(Workbench.fresh(directory, profile, settled), List.of());
  }

  /**
   * Opens an unfinished session again.
   *
   * @param profile from the trigger's name to its profile
   * @throws IllegalArgumentException if the session is finished or empty
   * @throws IOException if its journal is damaged, or in use or was until a moment ago
   */
  public static OpenedSession again(
      Sessions sessions, String name, Function<String, Profile> profile) throws IOException {
    Path directory = sessions.find(name);
    // Read before it is locked: one that is refused is left untouched, and told by what it is.
    JournalReading reading = JournalReading.of(directory);
    State state = reading.state();
    if (state.setup().isEmpty()) {
      throw new IllegalArgumentException(
          "session \"" + name + "\" ended before anything was decided; start a new one");
    }
    if (state.isClosed()) {
      throw new IllegalArgumentException(
          "session \"" + name + "\" is finished; see: scenespan sessions show " + name);
    }
    Workbench bench =
        Workbench.again(
            directory,
            Optional.of(state.opened().gear().trigger())
                .filter(trigger -> !trigger.isEmpty())
                .map(profile),
            state);
    // Another program that had the lock until now has perhaps taken a shot that the state lacks.
    if (bench.journal().size() != reading.records().size()) {
      bench.journal().close();
      throw new IOException("session \"" + name + "\" went on meanwhile; resume it again");
    }
    return new OpenedSession(bench, reading.records());
  }

  /** Whether it was held when it was last left: then it waits for the page to let it go on. */
  public boolean isHeld() {
    return bench.state().held();
  }

  public String name() {
    return bench.setup().session();
  }

  public Path directory() {
    return bench.directory();
  }

  /** The hot folder. */
  public Path folder() {
    return bench.folder();
  }

  /**
   * Runs the session to its end.
   *
   * @param realTime whether a rehearsal takes the time that a real session would
   * @param feeds who is told of each record after it is on disk
   * @return the closed state
   * @throws IOException if the port cannot be opened or the journal not be written
   */
  public State run(boolean realTime, List<Feed> feeds) throws IOException, InterruptedException {
    Feed feed =
        records -> {
          feeds.forEach(each -> each.publish(records));
          page.published(records);
        };
    if (bench.setup() instanceof LapseSetup) {
      bench.journal().holdOn();
    }
    if (bench.setup().gear().rehearsal().isEmpty()) {
      return run(
          new LiveRun(
              bench, opener(), feed, SteadyClock.ofSystem(lastRecord().orElse(Instant.MIN))));
    }
    if (!realTime) {
      if (bench.setup() instanceof LapseSetup) {
        bench.journal().rehearse();
      }
      return run(new VirtualRun(bench, bench.rehearsal(Faults.NONE), feed, virtualStart()));
    }
    InstantSource clock = SteadyClock.ofSystem(lastRecord().orElse(Instant.MIN));
    try (SimulatedLine line = new SimulatedLine(bench.rehearsal(Faults.NONE), clock)) {
      return run(new LiveRun(bench, line, feed, clock));
    }
  }

  private PortOpener opener() {
    return bench
        .profile()
        .map(profile -> PortOpener.of(bench.setup().gear().port(), profile))
        .orElse(
            () -> {
              throw new IllegalStateException("a session without a trigger has no port");
            });
  }

  private State run(Running session) throws IOException, InterruptedException {
    running = session;
    return session.run();
  }

  private Instant virtualStart() throws IOException {
    return lastRecord().map(last -> last.plus(Duration.ofSeconds(1))).orElse(VIRTUAL_START);
  }

  /** When the newest record was written, by its line alone: all were read to open the journal. */
  private Optional<Instant> lastRecord() throws IOException {
    Journal journal = bench.journal();
    List<String> newest = journal.since(Math.max(0, journal.size() - 1), 1);
    if (newest.isEmpty()) {
      return Optional.empty();
    }
    try {
      return Optional.of(EventJson.read(newest.get(0)).at());
    } catch (MalformedRecord changed) {
      throw new IOException("the journal's newest record was changed meanwhile", changed);
    }
  }

  /** Hands in a wish of the photographer's; without effect before the session runs. */
  public void ask(Input wish) {
    running().ifPresent(session -> session.ask(wish));
  }

  private Optional<Running> running() {
    return Optional.ofNullable(running);
  }

  /**
   * Opens the page of this session on the loopback address.
   *
   * @param port 0 takes a free one
   * @throws IOException if the port cannot be had
   */
  public Dashboard dashboard(int port) throws IOException {
    return page.open(port);
  }

  /**
   * Opens the page of this session to other machines, which have to enter a code.
   *
   * @param bound the address to listen on; the wildcard address for all
   * @param port 0 takes a free one
   * @throws IOException if the port cannot be had
   */
  public Dashboard dashboard(InetAddress bound, int port) throws IOException {
    return page.open(bound, port);
  }

  /** Closes the journal. A session in which nothing was decided leaves nothing behind. */
  @Override
  public void close() throws IOException {
    boolean empty = bench.journal().size() == 0;
    bench.journal().close();
    if (empty) {
      Sessions.removeEmpty(bench.directory());
    }
  }
}
