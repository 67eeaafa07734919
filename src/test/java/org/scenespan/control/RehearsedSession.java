package org.scenespan.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.FileChannel;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.scenespan.folder.ReferenceDesk;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.NoiseModel;
import org.scenespan.journal.Journal;
import org.scenespan.journal.JournalReading;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Known;
import org.scenespan.rehearsal.OwnExposure;
import org.scenespan.rehearsal.Rendering;
import org.scenespan.rehearsal.RigSettings;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SimulatedRig;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Event;
import org.scenespan.session.Gear;
import org.scenespan.session.Input;
import org.scenespan.session.Patience;
import org.scenespan.session.Shot;
import org.scenespan.session.State;
import org.scenespan.session.Stopped;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/** One session from a seed, through its faults, its power cuts and its full disks to its end. */
final class RehearsedSession {
  private static final Patience PATIENCE =
      new Patience(Duration.ofSeconds(15), Duration.ofSeconds(4), Duration.ofSeconds(90), 6);

  /** More steps than any session of these limits takes; beyond it, it does not end. */
  private static final int MOST_STEPS = 200_000;

  private static final double POWER_CUTS_A_RECORD = 0.06;

  /** The disk, small enough to be filled up for the fun of it. */
  private static final int DISK_BYTES = 8 << 20;

  /** Tries that a camera clock which jumps may cost beside those that a fault costs each. */
  private static final int TRIES_LOST_TO_A_CLOCK = 3;

  /** With so many shots lost, a session may have no settings left that none of them had. */
  private static final int SETTINGS_TO_TELL_BY = 30;

  /** The host's power is gone: what is on disk is on disk, nothing else is. */
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
  private final Path filler;
  private final SimulatedRig rig;
  private final BracketSetup setup;
  private final Profile profile;
  private final RigSettings settings;
  private final Map<Integer, Long> counted = new HashMap<>();
  private final int faultySteps;
  private final Stops drift;
  private Instant now = Instant.parse("2026-05-04T03:00:00Z");
  private Instant folderBack = Instant.MIN;
  private Instant diskFree = Instant.MIN;
  private Instant goOn = Instant.MIN;
  private List<Event.FrameAccepted> looked = List.of();
  private State replayed = State.EMPTY;
  private long wholeBytes;
  private int cards;
  private int steps;
  private boolean pressed;

  /** What a seed draws beyond the faults. */
  private record Draw(boolean jpegFirst, Optional<OwnExposure> own) {
    static final Draw NEITHER = new Draw(false, Optional.empty());

    /**
     * Every third camera keeps its own exposure; of those of every second, raw files come later.
     */
    static Draw of(long seed) {
      SplittableRandom random = new SplittableRandom(seed * 104_729);
      boolean jpegFirst = random.nextBoolean();
      int frames = random.nextInt(1, 5);
      Stops step = new Stops(random.nextInt(2, 4));
      OwnExposure own = OwnExposure.around(frames, step, frames > 1 && random.nextBoolean());
      return new Draw(jpegFirst, random.nextInt(3) == 0 ? Optional.of(own) : Optional.empty());
    }
  }

  RehearsedSession(long seed) throws IOException {
    this(seed, Draw.of(seed));
  }

  /** A seed of the time when every trigger set the exposure and one file a press was measured. */
  static RehearsedSession plain(long seed) throws IOException {
    return new RehearsedSession(seed, Draw.NEITHER);
  }

  private RehearsedSession(long seed, Draw draw) throws IOException {
    String trigger = draw.own.isPresent() ? "release-only" : "reference-trigger";
    profile = new Profiles(Optional.empty()).load(trigger);
    int framesPerRelease =
        draw.own.filter(OwnExposure::burst).map(own -> own.sequence().size()).orElse(1);
    random = new SplittableRandom(seed * 7919);
    drift = new Stops(seed % 7 == 1 ? 0.5 : seed % 7 == 5 ? -0.3 : 0);
    faults = new Swarm(seed, Duration.ofSeconds(2), PATIENCE.frame());
    cuts = random.nextBoolean();
    // A trigger that does not answer at all when a session begins ends it at once, and rightly.
    if (random.nextInt(8) == 0) {
      faults.begin();
    }
    faultySteps = 20 + random.nextInt(2000);
    FileSystem disk =
        Jimfs.newFileSystem(
            Configuration.unix().toBuilder()
                .setMaxSize(DISK_BYTES)
                .setBlockSize(2048)
                .setFileTimeSource(() -> FileTime.from(now))
                .build());
    directory = new Sessions(disk.getPath("/sessions")).create("seed-" + seed);
    frames = Files.createDirectories(directory.resolve("frames"));
    away = disk.getPath("/away");
    filler = disk.getPath("/filler");
    Scene scene = Scene.load(SmallScene.write(disk.getPath("/scene.hdr"), random), new Ev(12));
    boolean raw = random.nextInt(4) == 0 || draw.jpegFirst;
    faults.expect(framesPerRelease);
    settings = settings(seed, raw, draw.own);
    rig = new SimulatedRig(settings, scene, frames, faults);
    setup =
        new BracketSetup(
            "seed-" + seed,
            "test",
            new Gear(
                trigger,
                "",
                "frames",
                raw,
                draw.jpegFirst,
                draw.own.map(own -> new Gear.Own(framesPerRelease)),
                Optional.of(new Gear.Rehearsal("small", new Ev(12), seed))),
            BracketGoal.USUAL,
            profile.cameraRange(),
            PictureLimits.at(Aperture.parse("f/8")).withLongest(Shutter.parse("4s")),
            NoiseModel.TYPICAL,
            Optional.empty(),
            Known.NOTHING,
            PATIENCE);
  }

  /** Files take up to half a second, and in a quarter of the seeds longer than a frame may. */
  private RigSettings settings(long seed, boolean raw, Optional<OwnExposure> own) {
    RigSettings usual = RigSettings.TYPICAL;
    long slowest = random.nextInt(4) == 0 ? 6_000 : 500;
    return new RigSettings(
        usual.noise(),
        seed,
        usual.shutterLag(),
        usual.replyTime(),
        Duration.ofMillis(random.nextLong(slowest)),
        Duration.ofMillis(random.nextLong(slowest)),
        Duration.ofSeconds(random.nextLong(-40_000, 40_000)),
        ZoneOffset.ofHours(random.nextInt(-11, 12)),
        raw,
        random.nextBoolean() ? RigSettings.Placing.GROWING : RigSettings.Placing.RENAMED,
        random.nextInt(4) == 0 ? random.nextInt(9_990, 10_000) : 1,
        own,
        seed % 6 == 4 ? Rendering.TONED : Rendering.PLAIN,
        drift);
  }

  Path journal() {
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
        bench.journal().close();
        tear(cut.withinAppend);
        bench = again();
      } catch (IOException full) {
        // The program tells it and ends; the journal is whole. Somebody starts it again.
        assertTrue(Files.exists(filler), full.toString());
        bench.journal().close();
        assertEquals(replayed, JournalReading.stateOf(directory));
        bench = again();
      }
    }
    bench.journal().close();
    return check();
  }

  private Workbench again() throws IOException {
    now = now.plusMillis(random.nextLong(20_000));
    restore();
    rig.runDue(now);
    rig.takeOutput();
    if (steps < faultySteps && random.nextInt(8) == 0) {
      faults.jumpClock();
    }
    JournalReading kept = JournalReading.of(directory);
    counted.values().removeIf(seq -> seq > kept.records().size());
    replayed = kept.state();
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
    VirtualRun run =
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
                  parts.perform(effect);
                  mayCut(false);
                });
    wholeBytes = Files.size(journal());
    run.begin();
    while (!run.state().isClosed()) {
      if (!run.state().shots().isEmpty()) {
        faults.begin();
      }
      if (steps >= faultySteps) {
        faults.end();
      }
      now = run.now();
      restore();
      if (run.state().held() && !now.isBefore(goOn)) {
        run.ask(new Input.ContinueAsked());
      }
      Optional<Swarm.Mishap> mishap = faults.mishap(now);
      if (mishap.isPresent()) {
        happen(mishap.get(), run);
      }
      wholeBytes = Files.size(journal());
      run.advance();
      now = run.now();
      invariants(run.state());
      steps++;
      assertTrue(steps < MOST_STEPS, "the session ends");
    }
  }

  private void happen(Swarm.Mishap mishap, VirtualRun run) throws IOException {
    Duration outage = PATIENCE.outage();
    switch (mishap) {
      case CABLE_OUT -> run.unplug(faults.drawn(outage.multipliedBy(2).dividedBy(1 + rare())));
      case FOLDER_GONE -> {
        if (Files.exists(frames)) {
          Files.move(frames, away);
          folderBack = now.plus(faults.drawn(outage.multipliedBy(2).dividedBy(1 + rare())));
        }
      }
      case DISK_FULL -> {
        fill();
        diskFree = now.plus(faults.drawn(Duration.ofSeconds(30)));
      }
      case HOLD -> {
        run.ask(new Input.HoldAsked());
        goOn = now.plus(faults.drawn(Duration.ofSeconds(60)));
      }
      case PRESSES -> {
        pressed = true;
        rig.press(now);
      }
      case NEW_CARD -> {
        if (Files.exists(frames)) {
          empty();
          rig.changeCard(1);
        }
      }
    }
  }

  /** Mostly a short outage; one in four may be longer than the session's patience. */
  private int rare() {
    return random.nextInt(4) == 0 ? 0 : 19;
  }

  /** The photographer takes all files away. */
  private void empty() throws IOException {
    Path box = frames.getFileSystem().getPath("/card-" + ++cards);
    Files.move(frames, box);
    Files.createDirectory(frames);
  }

  private void fill() throws IOException {
    byte[] block = new byte[64 << 10];
    int size = block.length;
    try (OutputStream out =
        Files.newOutputStream(filler, StandardOpenOption.CREATE, StandardOpenOption.APPEND)) {
      while (size > 0) {
        try {
          out.write(block, 0, size);
        } catch (IOException full) {
          size /= 8;
        }
      }
    }
  }

  /** What was away and is due comes back; everything does when the faults are over. */
  private void restore() throws IOException {
    boolean over = steps >= faultySteps;
    if (Files.exists(away) && (over || !now.isBefore(folderBack))) {
      Files.move(away, frames);
    }
    if (Files.exists(filler) && (over || !now.isBefore(diskFree))) {
      Files.delete(filler);
    }
  }

  private void mayCut(boolean afterAppend) {
    if (cuts && steps < faultySteps && random.nextDouble() < POWER_CUTS_A_RECORD / 3) {
      throw new PowerCut(afterAppend && random.nextBoolean());
    }
  }

  /**
   * The power may go in the middle of an append, before anything was done about it: then a part of
   * it is on disk.
   */
  private void tear(boolean withinAppend) throws IOException {
    Path file = journal();
    long size = Files.size(file);
    if (withinAppend && size > wholeBytes) {
      try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
        channel.truncate(random.nextLong(wholeBytes, size));
      }
    }
  }

  /** What is published leads to the state that the session has, and says which frame is whose. */
  private void replay(List<JournalRecord> records) {
    for (JournalRecord record : records) {
      replayed = record.event().applyTo(replayed, record.at());
      if (record.event() instanceof Event.FrameAccepted frame) {
        credit(frame.shot(), frame.frame().file(), record.seq());
      } else if (record.event() instanceof Event.FrameRefined frame) {
        credit(frame.shot(), frame.frame().file(), record.seq());
      }
    }
  }

  private void credit(int shot, String name, long seq) {
    Path file = frames.resolve(name);
    if (!Files.exists(file)) {
      return;
    }
    byte[] content = read(file);
    Long before = counted.put(Arrays.hashCode(content), seq);
    assertTrue(before == null, name + " was counted before");
    int truth = faults.truth(content).orElseThrow();
    // Nothing tells a frame that was taken by hand with the shot's own settings from the shot's;
    // it is the picture that was wanted. Of a camera that keeps its own exposure every press is
    // such a one, and by its capture time the camera's clock may have been learned.
    if (truth != SimulatedRig.BY_HAND && !(pressed && setup.gear().own().isPresent())) {
      assertEquals(truth, shot, "the frame of " + name);
    }
  }

  private static byte[] read(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private void invariants(State state) {
    assertEquals(replayed, state, "the journal replays to the same state");
    assertTrue(
        state.shots().stream().filter(RehearsedSession::waits).count() <= 1,
        "one shot at a time is waited for");
    if (state.frames().equals(looked)) {
      return;
    }
    looked = state.frames();
    int most = setup.gear().own().map(Gear.Own::framesPerRelease).orElse(1);
    Map<Integer, Integer> credited = new HashMap<>();
    Set<String> presses = new HashSet<>();
    for (Event.FrameAccepted frame : state.frames()) {
      int count = credited.merge(frame.shot(), 1, Integer::sum);
      assertTrue(count <= most, "no more frames a shot than one release brings");
      FrameMetadata taken = frame.frame().metadata();
      assertTrue(
          presses.add(taken.capturedAt() + " " + taken.exposure()), "one frame a shutter press");
    }
  }

  private static boolean waits(Shot shot) {
    return switch (shot.standing()) {
      case COMMANDED, CONFIRMED, UNCONFIRMED -> true;
      case PLANNED, REFUSED, LOST, TAKEN, WITHDRAWN -> false;
    };
  }

  private String check() throws IOException {
    try (Stream<Path> files = Files.list(Files.exists(away) ? away : frames)) {
      assertTrue(
          files.allMatch(file -> faults.isCameras(read(file))), "the camera's files are untouched");
    }
    JournalReading reading = JournalReading.of(directory);
    State state = reading.state();
    assertEquals(replayed, state);
    Event.BracketReport report = (Event.BracketReport) state.report().orElseThrow();
    // Faults may use up the retakes, the greetings or, with retakes set apart and late frames
    // beside
    // them, the frames; without them every scene is covered.
    boolean retaken = state.shots().size() > state.frames().size();
    boolean late = state.frames().stream().anyMatch(Event.FrameAccepted::late);
    // Light that changes may leave what can be set, or what was taken, behind.
    boolean left =
        drift.value() != 0
            && (report.stopped() == Stopped.LIMIT || report.stopped() == Stopped.MOST_FRAMES);
    boolean given =
        left
            || report.stopped() == Stopped.FRAMES_MISSING
            || report.stopped() == Stopped.TRIGGER_FAILED
            || report.stopped() == Stopped.MOST_FRAMES && (late || retaken)
            || setup.gear().own().isPresent()
                && (report.stopped() == Stopped.LIMIT || report.stopped() == Stopped.MOST_FRAMES);
    assertTrue(report.stopped() == Stopped.COVERED || given, report.why());
    assertTrue(
        report.covered() || report.stopped() != Stopped.COVERED,
        "a session that ends covered says so");
    if (report.stopped() == Stopped.FRAMES_MISSING && !report.why().startsWith("The hot folder")) {
      Shot last = state.shots().get(state.shots().size() - 1);
      Instant since = state.shot(last.number() - last.attempt() + 1).plannedAt();
      assertTrue(
          faults.strikesSince(since) + commandsCutOff(reading.records(), since)
                  >= last.attempt() - TRIES_LOST_TO_A_CLOCK
              || state.shots().size() - state.frames().size() >= SETTINGS_TO_TELL_BY,
          "faults, not the session, used up the tries: " + report.why());
    }
    if (setup.gear().jpegFirst() && isUndisturbed() && report.stopped() == Stopped.COVERED) {
      assertTrue(
          state.frames().stream()
              .allMatch(frame -> frame.frame().measure().source() == FrameSource.RAW),
          "the end waited for the raw files");
    }
    StringBuilder text = new StringBuilder();
    reading.records().forEach(record -> text.append(EventJson.write(record)).append('\n'));
    return text.toString();
  }

  /** How many shots since then the power failed for between their record and their release. */
  private long commandsCutOff(List<JournalRecord> records, Instant since) {
    return IntStream.range(1, records.size())
        .filter(i -> records.get(i).event() instanceof Event.SessionResumed)
        .filter(i -> !records.get(i).at().isBefore(since))
        .mapToObj(i -> records.get(i - 1).event())
        .filter(before -> before instanceof Event.ShotCommanded)
        .filter(before -> !faults.isReleased(((Event.ShotCommanded) before).shot()))
        .count();
  }

  /** No fault, no power cut, and each raw file in time behind its JPEG. */
  private boolean isUndisturbed() {
    Duration behind = settings.rawTime().minus(settings.jpegTime());
    return !cuts
        && faults.strikesSince(Instant.MIN) == 0
        && behind.compareTo(PATIENCE.frame().minusSeconds(1)) < 0;
  }
}
