package org.scenespan.control;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.scenespan.frame.NoiseModel;
import org.scenespan.journal.Journal;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Known;
import org.scenespan.rehearsal.RigSettings;
import org.scenespan.rehearsal.Scene;
import org.scenespan.rehearsal.SimulatedRig;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Event;
import org.scenespan.session.Gear;
import org.scenespan.session.Shot;
import org.scenespan.session.State;
import org.scenespan.session.Stopped;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/**
 * One seed, one virtual clock: the real loop, session, wire, journal, dialogue and hot folder over
 * a simulated rig, with faults drawn from the seed. Then the faults stop and the session must
 * finish.
 */
class SimulationTest {
  private static final BracketSetup.Patience PATIENCE =
      new BracketSetup.Patience(
          Duration.ofSeconds(15), Duration.ofSeconds(4), Duration.ofSeconds(90), 6);

  private static final Profile PROFILE = new Profiles(Optional.empty()).load("reference-trigger");

  /** More steps than any session of these limits takes; beyond it, it does not end. */
  private static final int MOST_STEPS = 200_000;

  private static final double POWER_CUTS_A_RECORD = 0.06;

  /** The host's power is gone: what is on disk is on disk, nothing else is. */
  private static final class PowerCut extends RuntimeException {
    private static final long serialVersionUID = 1;
  }

  static LongStream seeds() {
    long first = Long.getLong("scenespan.seed", 1);
    return LongStream.range(first, first + Long.getLong("scenespan.seeds", 200));
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void survivesItsFaults(long seed) throws IOException {
    try {
      new Rehearsed(seed).run();
    } catch (AssertionError | RuntimeException failed) {
      throw new AssertionError(
          "repeat with: mvn test -Dtest=SimulationTest -Dscenespan.seeds=1 -Dscenespan.seed="
              + seed,
          failed);
    }
  }

  /** The faults really strike, and yet nearly every session ends covered. */
  @Test
  void theSwarmBites() throws IOException {
    int sessions = 80;
    int covered = 0;
    StringBuilder all = new StringBuilder();
    for (long seed = 1; seed <= sessions; seed++) {
      String journal = new Rehearsed(seed).run();
      covered += journal.contains("\"stopped\":\"covered\"") ? 1 : 0;
      all.append(journal);
    }
    for (String happened :
        List.of(
            "session-resumed",
            "shot-lost",
            "shot-unconfirmed",
            "shot-refused",
            "trigger-lost",
            "\"late\":true")) {
      assertTrue(all.indexOf(happened) >= 0, happened + " never happened");
    }
    assertTrue(covered >= 0.9 * sessions, covered + " of " + sessions + " covered");
  }

  /** A seed repeats every byte of the journal. */
  @Test
  void aSeedRepeatsItself() throws IOException {
    assertEquals(new Rehearsed(7).run(), new Rehearsed(7).run());
  }

  /** One session from a seed, through its power cuts to its end. */
  private static final class Rehearsed {
    private final SplittableRandom random;
    private final Swarm faults;
    private final boolean cuts;
    private final Path directory;
    private final Path frames;
    private final SimulatedRig rig;
    private final BracketSetup setup;
    private final int faultySteps;
    private Instant now = Instant.parse("2026-05-04T03:00:00Z");
    private int steps;

    Rehearsed(long seed) throws IOException {
      random = new SplittableRandom(seed * 7919);
      faults = new Swarm(seed, Duration.ofSeconds(2), PATIENCE.frame());
      cuts = random.nextBoolean();
      // A trigger that does not answer at all when a session begins ends it at once, and rightly.
      if (random.nextInt(8) == 0) {
        faults.begin();
      }
      faultySteps = 20 + random.nextInt(2000);
      FileSystem disk = Jimfs.newFileSystem(Configuration.unix());
      directory = new Sessions(disk.getPath("/sessions")).create("seed-" + seed);
      frames = Files.createDirectories(directory.resolve("frames"));
      Scene scene = Scene.load(smallScene(disk.getPath("/scene.hdr"), random), new Ev(12));
      boolean raw = random.nextInt(4) == 0;
      RigSettings settings =
          RigSettings.TYPICAL
              .withSeed(seed)
              .withRaw(raw)
              .withPlacing(
                  random.nextBoolean() ? RigSettings.Placing.GROWING : RigSettings.Placing.RENAMED)
              .withCameraClock(
                  Duration.ofSeconds(random.nextLong(-40_000, 40_000)),
                  ZoneOffset.ofHours(random.nextInt(-11, 12)));
      rig = new SimulatedRig(settings, scene, frames, faults);
      setup =
          new BracketSetup(
              "seed-" + seed,
              "test",
              new Gear(
                  "reference-trigger",
                  "",
                  "frames",
                  raw,
                  Optional.of(new Gear.Rehearsal("small", new Ev(12), seed))),
              BracketGoal.USUAL,
              PROFILE.cameraRange(),
              PictureLimits.at(Aperture.parse("f/8")).withLongest(Shutter.parse("4s")),
              NoiseModel.TYPICAL,
              Optional.empty(),
              Known.NOTHING,
              PATIENCE);
    }

    /** Runs to the end and gives the journal. */
    String run() throws IOException {
      Workbench bench = Workbench.fresh(directory, PROFILE, setup);
      boolean running = true;
      while (running) {
        try {
          runUntilPowerCut(bench);
          running = false;
        } catch (PowerCut cut) {
          bench.journal().close();
          tear();
          now = now.plusMillis(random.nextLong(20_000));
          rig.runDue(now);
          rig.takeOutput();
          bench = again();
        }
      }
      bench.journal().close();
      return check();
    }

    private Workbench again() throws IOException {
      State state = Journal.fold(Journal.records(directory));
      return state.setup().isEmpty()
          ? new Workbench(
              directory, Journal.reopen(directory), PROFILE, State.EMPTY, setup, Set.of())
          : Workbench.again(directory, PROFILE, state);
    }

    private void runUntilPowerCut(Workbench bench) throws IOException {
      VirtualRun run =
          new VirtualRun(
              bench,
              rig,
              records -> mayCut(),
              now,
              parts ->
                  effect -> {
                    mayCut();
                    parts.perform(effect);
                  });
      run.begin();
      while (!run.state().isClosed()) {
        run.advance();
        now = run.now();
        invariants(run.state());
        steps++;
        if (!run.state().shots().isEmpty()) {
          faults.begin();
        }
        assertTrue(steps < MOST_STEPS, "the session ends");
        if (steps >= faultySteps) {
          faults.end();
        }
      }
    }

    private void mayCut() {
      if (cuts && steps < faultySteps && random.nextDouble() < POWER_CUTS_A_RECORD) {
        throw new PowerCut();
      }
    }

    /** The power may go in the middle of an append: then a part of a line is on disk. */
    private void tear() throws IOException {
      if (random.nextBoolean()) {
        String half = "{\"seq\":99,\"at\":\"2026-05-04T0";
        Files.writeString(
            directory.resolve(Journal.FILE_NAME),
            half.substring(0, 1 + random.nextInt(half.length() - 1)),
            StandardOpenOption.APPEND);
      }
    }

    private void invariants(State state) {
      assertTrue(
          state.shots().stream().filter(shot -> waits(shot)).count() <= 1,
          "one shot at a time is waited for");
      Set<Integer> credited = new HashSet<>();
      for (Event.FrameAccepted frame : state.frames()) {
        int number = Integer.parseInt(frame.frame().file().replaceAll("\\D", ""));
        assertEquals(faults.truth(number), frame.shot(), "the frame of " + frame.frame().file());
        assertTrue(credited.add(frame.shot()), "one frame a shot");
      }
      assertTrue(state.frames().size() <= faults.framesTaken());
    }

    private static boolean waits(Shot shot) {
      return switch (shot.standing()) {
        case COMMANDED, CONFIRMED, UNCONFIRMED -> true;
        case PLANNED, REFUSED, LOST, TAKEN -> false;
      };
    }

    private String check() throws IOException {
      List<JournalRecord> records = Journal.records(directory);
      State state = Journal.fold(records);
      Event.Report report = state.report().orElseThrow();
      // Faults may use up the retakes or the greetings; without them every scene is covered.
      boolean given =
          report.stopped() == Stopped.FRAMES_MISSING || report.stopped() == Stopped.TRIGGER_FAILED;
      assertTrue(report.stopped() == Stopped.COVERED || given, report.why());
      assertEquals(report.stopped() == Stopped.COVERED, report.covered());
      StringBuilder text = new StringBuilder();
      State folded = State.EMPTY;
      for (JournalRecord record : records) {
        text.append(EventJson.write(record)).append('\n');
        folded = folded.after(List.of(record.event()), record.at());
      }
      assertEquals(state, folded);
      return text.toString();
    }
  }

  /** Fifteen to seventeen stops in 48 × 32 pixels. */
  private static Path smallScene(Path file, SplittableRandom random) throws IOException {
    int width = 48;
    int height = 32;
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    bytes.writeBytes(
        ("#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y " + height + " +X " + width + "\n")
            .getBytes(StandardCharsets.US_ASCII));
    double stops = 15 + 2 * random.nextDouble();
    for (int y = 0; y < height; y++) {
      for (int x = 0; x < width; x++) {
        double level = stops * (y * width + x) / (width * height - 1.0);
        int exponent = 128 - 8 + (int) Math.floor(level);
        int mantissa = (int) Math.min(255, 128 * Math.pow(2, level - Math.floor(level)));
        // Flat pixels, none of which may look like the start of a run (2 2 or 1 1 1).
        bytes.write(mantissa);
        bytes.write(mantissa);
        bytes.write(mantissa);
        bytes.write(exponent);
      }
    }
    Files.write(file, bytes.toByteArray());
    return file;
  }
}
