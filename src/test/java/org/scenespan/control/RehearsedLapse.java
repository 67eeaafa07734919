package org.scenespan.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.function.BooleanSupplier;
import org.scenespan.folder.ReferenceDesk;
import org.scenespan.frame.Region;
import org.scenespan.journal.Journal;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.Wish;
import org.scenespan.rehearsal.LightScatter;
import org.scenespan.rehearsal.MovingLight;
import org.scenespan.rehearsal.Rendering;
import org.scenespan.rehearsal.RigSettings;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SimulatedRig;
import org.scenespan.session.Effect;
import org.scenespan.session.Event;
import org.scenespan.session.Gear;
import org.scenespan.session.Input;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.Patience;
import org.scenespan.session.RigCheck;
import org.scenespan.session.State;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/**
 * One lapse from a seed, through its faults and its power cuts; then the faults stop, and the last
 * places of the grid must all have their frames.
 */
final class RehearsedLapse {
  private static final Patience PATIENCE =
      new Patience(Duration.ofSeconds(15), Duration.ofSeconds(4), Duration.ofSeconds(30), 0);

  private static final int MOST_STEPS = 100_000;

  /** Room for all frames, previews and records, small enough to be filled up. */
  private static final long DISK_BYTES = 64L << 20;

  /** Comparing whole states is most of the work. */
  private static final int COMPARE_EVERY = 16;

  private static final double POWER_CUTS_A_RECORD = 0.01;

  /** Places at which things go wrong, and those at the end that must all be taken and read. */
  private static final int FAULTY_PLACES = 40;

  private static final int LAST_PLACES = 8;

  /** For how long after the faults a camera's clock may still be in doubt. */
  private static final Duration SETTLING = Duration.ofSeconds(150);

  private static final Duration[] INTERVALS = {
    Duration.ofSeconds(3), Duration.ofSeconds(5), Duration.ofSeconds(10), Duration.ofSeconds(30)
  };

  private static final Instant START = Instant.parse("2026-05-04T03:00:00Z");

  private static final class PowerCut extends RuntimeException {
    private static final long serialVersionUID = 1;
    private final boolean withinAppend;

    PowerCut(boolean withinAppend) {
      super(null, null, false, false);
      this.withinAppend = withinAppend;
    }
  }

  private final SplittableRandom random;
  private final Swarm faults;
  private final boolean cuts;
  private final Path directory;
  private final Path frames;
  private final Path away;
  private final SimulatedRig rig;
  private final LapseSetup setup;
  private final Profile profile;
  private final Map<String, Integer> credited = new HashMap<>();

  /** Faults that came later have a chance of their own: older seeds go as they always went. */
  private final Optional<LaterFaults> later;

  private final Path filler;
  private final Set<Integer> byHand = new HashSet<>();
  private final List<Instant> releases = new ArrayList<>();
  private Instant now = START;
  private Instant asked = Instant.MIN;
  private Instant folderBack = Instant.MIN;
  private Instant goOn = Instant.MIN;
  private State replayed = State.EMPTY;
  private long wholeBytes;
  private int steps;
  private boolean over;
  private VirtualRun current;
  private BooleanSupplier holds = () -> false;
  private boolean held;

  RehearsedLapse(long seed) throws IOException {
    this(seed, true);
  }

  /**
   * @param all whether a machine that sleeps, a disk that is full, a camera that stops answering
   *     and the check of the rig are among what happens
   */
  RehearsedLapse(long seed, boolean all) throws IOException {
    later = all ? Optional.of(new LaterFaults(seed)) : Optional.empty();
    profile = new Profiles(Optional.empty()).load("reference-trigger");
    random = new SplittableRandom(seed * 6007);
    faults = new Swarm(seed, Duration.ofSeconds(2), PATIENCE.frame());
    faults.expect(1);
    cuts = random.nextBoolean();
    FileSystem disk =
        Jimfs.newFileSystem(
            Configuration.unix().toBuilder()
                .setMaxSize(DISK_BYTES)
                .setBlockSize(2048)
                .setFileTimeSource(() -> FileTime.from(now))
                .build());
    directory = new Sessions(disk.getPath("/sessions")).create("lapse-" + seed);
    frames = Files.createDirectories(directory.resolve("frames"));
    away = disk.getPath("/away");
    filler = disk.getPath("/filler");
    Duration interval = INTERVALS[random.nextInt(INTERVALS.length)];
    double slope = 0.4 * (2 * random.nextDouble() - 1) / 60;
    rig =
        new SimulatedRig(
            settings(seed),
            Scene.dawn(new Ev(6)),
            frames,
            later.map(it -> it.before(faults)).orElse(faults),
            Optional.of(
                new MovingLight(
                    seconds -> new Ev(6 + slope * seconds),
                    LightScatter.none(),
                    Optional.of(START))));
    int settling = (int) SETTLING.dividedBy(interval) + 4;
    setup =
        new LapseSetup(
            "lapse-" + seed,
            "test",
            new Gear(
                "reference-trigger",
                "",
                "frames",
                false,
                Optional.of(new Gear.Rehearsal("dawn", new Ev(6), seed))),
            profile.cameraRange(),
            PictureLimits.at(Aperture.parse("f/2.8")).withHighestIso(Iso.parse("3200")),
            new LapseSetup.Cadence(
                interval, Duration.ofSeconds(1), FAULTY_PLACES + settling + LAST_PLACES),
            Region.WHOLE,
            Wish.usual(),
            random.nextBoolean() ? Optional.of(new Ev(6)) : Optional.empty(),
            Optional.empty(),
            PATIENCE,
            later.filter(LaterFaults::checksRig).map(it -> RigCheck.TELL).orElse(RigCheck.OFF));
  }

  private RigSettings settings(long seed) {
    RigSettings usual = RigSettings.TYPICAL;
    return new RigSettings(
        usual.noise(),
        seed,
        usual.shutterLag(),
        usual.replyTime(),
        Duration.ofMillis(random.nextLong(500)),
        usual.rawTime(),
        Duration.ofSeconds(random.nextLong(-40_000, 40_000)),
        ZoneOffset.ofHours(random.nextInt(-11, 12)),
        false,
        random.nextBoolean() ? RigSettings.Placing.GROWING : RigSettings.Placing.RENAMED,
        random.nextInt(4) == 0 ? random.nextInt(9_990, 10_000) : 1,
        Optional.empty(),
        Rendering.PLAIN,
        Stops.ZERO);
  }

  private Path journal() {
    return directory.resolve(Journal.FILE_NAME);
  }

  /** Runs to the end and gives the journal. */
  String run() throws IOException {
    Workbench bench = Workbench.fresh(directory, Optional.of(profile), setup);
    boolean running = true;
    while (running) {
      try {
        runUntilPowerCut(bench);
        running = false;
      } catch (PowerCut cut) {
        // What was asked for in this step, or for later, never reached the trigger.
        releases.removeIf(at -> at.isAfter(now) || at.equals(asked));
        bench.journal().close();
        tear(cut.withinAppend);
        bench = again();
      }
    }
    bench.journal().close();
    return check();
  }

  private Workbench again() throws IOException {
    now = now.plusMillis(random.nextLong(40_000));
    restore();
    rig.runDue(now);
    rig.takeOutput();
    if (!over && random.nextInt(8) == 0) {
      faults.jumpClock();
    }
    replayed = JournalReading.stateOf(directory);
    credited.clear();
    replayed
        .lapse()
        .frames()
        .list()
        .forEach(frame -> credited.put(frame.file().orElseThrow(), frame.shot()));
    return replayed.setup().isEmpty()
        ? new Workbench(
            directory,
            Journal.reopen(directory),
            Optional.of(profile),
            State.EMPTY,
            setup,
            Set.of(),
            new ReferenceDesk())
        : Workbench.again(directory, Optional.of(profile), replayed);
  }

  private void runUntilPowerCut(Workbench bench) throws IOException {
    current =
        new VirtualRun(
            bench,
            rig,
            records -> {
              replay(records);
              mayCut(false);
            },
            now,
            parts ->
                effect -> {
                  mayCut(true);
                  if (effect instanceof Effect.ReleaseAt release) {
                    release(release);
                  }
                  parts.perform(effect);
                  mayCut(false);
                });
    VirtualRun run = current;
    bench.journal().holdOn();
    holds = () -> bench.journal().trouble().isPresent();
    wholeBytes = Files.size(journal());
    run.begin();
    while (!run.state().isClosed()) {
      if (run.state().lapse().lastShot() > 0) {
        faults.begin();
      }
      Duration faulty = setup.cadence().interval().multipliedBy(FAULTY_PLACES);
      if (!over && run.now().isAfter(START.plus(faulty))) {
        over = true;
        faults.end();
      }
      now = run.now();
      restore();
      if (run.state().held() && (over || !now.isBefore(goOn))) {
        run.ask(new Input.ContinueAsked());
      }
      Optional<Swarm.Mishap> mishap = faults.mishap(now);
      if (mishap.isPresent()) {
        happen(mishap.get(), run);
      }
      if (later.isPresent() && run.state().lapse().start().isPresent() && !over) {
        later.get().happen(run, now, setup.cadence().interval(), filler);
      }
      wholeBytes = Files.size(journal());
      asked = Instant.MIN;
      held = holds.getAsBoolean();
      run.advance();
      now = run.now();
      if (steps % COMPARE_EVERY == 0) {
        assertEquals(replayed, run.state(), "the journal replays to the same state");
      }
      steps++;
      assertTrue(steps < MOST_STEPS, "the session ends");
    }
  }

  private void happen(Swarm.Mishap mishap, VirtualRun run) throws IOException {
    Duration longest = setup.cadence().interval().multipliedBy(6);
    switch (mishap) {
      case CABLE_OUT -> run.unplug(faults.drawn(longest));
      case FOLDER_GONE -> {
        if (Files.exists(frames)) {
          Files.move(frames, away);
          folderBack = now.plus(faults.drawn(longest));
        }
      }
      case HOLD -> {
        run.ask(new Input.HoldAsked());
        goOn = now.plus(faults.drawn(longest));
      }
      case PRESSES -> rig.press(now);
      case DISK_FULL, NEW_CARD -> {
        // A bracket's simulation has them.
      }
    }
  }

  private void restore() throws IOException {
    if (later.isPresent()) {
      later.get().restore(filler, over, now);
    }
    if (Files.exists(away) && (over || !now.isBefore(folderBack))) {
      Files.move(away, frames);
    }
  }

  private void mayCut(boolean afterAppend) {
    // What is held is lost with the program, and so it is said; so is what is just being written.
    if (cuts
        && !over
        && !held
        && !holds.getAsBoolean()
        && random.nextDouble() < POWER_CUTS_A_RECORD) {
      throw new PowerCut(afterAppend && random.nextBoolean());
    }
  }

  private void tear(boolean withinAppend) throws IOException {
    long size = Files.size(journal());
    if (withinAppend && size > wholeBytes) {
      try (FileChannel channel = FileChannel.open(journal(), StandardOpenOption.WRITE)) {
        channel.truncate(random.nextLong(wholeBytes, size));
      }
    }
  }

  /** The grid is kept, and nothing is bunched to catch up. */
  private void release(Effect.ReleaseAt release) {
    Duration interval = setup.cadence().interval();
    Instant start = current.state().lapse().start().orElseThrow();
    long into = Duration.between(start, release.at()).toNanos() % interval.toNanos();
    assertTrue(
        into >= 0 && into <= interval.toNanos() / 4, "a release " + into + " ns off the grid");
    if (!releases.isEmpty()) {
      Duration since = Duration.between(releases.get(releases.size() - 1), release.at());
      assertTrue(since.compareTo(interval.multipliedBy(3).dividedBy(4)) >= 0, "bunched: " + since);
    }
    releases.add(release.at());
    asked = release.at();
  }

  private void replay(List<JournalRecord> records) {
    for (JournalRecord record : records) {
      if (record.event() instanceof Event.ShotRamped ramped) {
        chosen(ramped.exposure());
        assertEquals(replayed.lapse().lastPlace() + 1, ramped.place(), "no place twice, none left");
      }
      replayed = record.event().applyTo(replayed, record.at());
      if (record.event() instanceof Event.FrameMatched matched) {
        credit(matched.shot(), matched.frame().file());
      }
    }
  }

  private void chosen(Exposure exposure) {
    assertEquals(setup.picture().aperture(), exposure.aperture(), "the aperture never moves");
    assertTrue(setup.latitude().canReach(exposure.ev()), exposure + " is outside of the limits");
    double longest = setup.cadence().interval().minus(setup.cadence().gap()).toMillis() / 1000.0;
    assertTrue(exposure.shutter().seconds() <= longest + 1e-9, "the gap is kept");
  }

  private void credit(int shot, String name) {
    assertTrue(credited.put(name, shot) == null, name + " is credited twice");
    assertEquals(credited.size(), new HashSet<>(credited.values()).size(), "one frame a shot");
    Path file = Files.exists(frames) ? frames.resolve(name) : away.resolve(name);
    try {
      int truth = faults.truth(Files.readAllBytes(file)).orElseThrow();
      // Nothing tells a press by hand in the moment of a shot from the shot; the shot's own frame
      // then comes as one too many, and nothing tells it from its neighbour's.
      if (truth == SimulatedRig.BY_HAND) {
        byHand.add(shot);
      } else if (!byHand.contains(truth)) {
        assertEquals(truth, shot, "the frame of " + name);
      }
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private String check() throws IOException {
    JournalReading reading = JournalReading.of(directory);
    State state = reading.state();
    assertEquals(replayed, state);
    Event.LapseReport report = (Event.LapseReport) state.report().orElseThrow();
    Set<Integer> read = new HashSet<>();
    report.frames().stream()
        .filter(line -> line.file().isPresent())
        .forEach(line -> read.add(line.index()));
    int places = setup.cadence().frames();
    for (int place = places - LAST_PLACES + 1; place <= places; place++) {
      assertTrue(read.contains(place), "place " + place + " of " + places + " has no frame");
    }
    StringBuilder text = new StringBuilder();
    reading.records().forEach(record -> text.append(EventJson.write(record)).append('\n'));
    return text.toString();
  }
}
