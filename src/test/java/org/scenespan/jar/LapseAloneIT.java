package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.scenespan.jar.LiveBracket.is;
import static org.scenespan.jar.LiveBracket.only;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.session.Event;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/**
 * A lapse of the packaged program with nobody there: killed at random moments, its port gone and
 * back under another name, the disk under its records full. The other program is trigger and
 * camera.
 */
@Timeout(240)
@EnabledOnOs(value = OS.LINUX, disabledReason = "pseudo-terminals and mounts are Linux's")
class LapseAloneIT {
  private static final List<String> DIRECTLY = List.of();

  /** More than the slowest machine comes to: the test ends it. */
  private static final int MANY = 1_000;

  @TempDir private Path directory;

  private Program lapse(List<String> by, String port, Path frames, Path sessions, int count)
      throws IOException {
    return Program.start(
        directory,
        by,
        "lapse",
        "--port",
        port,
        "--folder",
        frames.toString(),
        "--interval",
        "0.5s",
        "--frames",
        Integer.toString(count),
        "--frame-timeout",
        "20s",
        "--rig-check",
        "off",
        "--json",
        "--sessions",
        sessions.toString());
  }

  @Test
  void killedAtRandomMomentsItAccountsForEveryPlace() throws Exception {
    long seed = Long.getLong("scenespan.kill.seed", System.nanoTime());
    System.out.println("repeat with: -Dscenespan.kill.seed=" + seed);
    Random random = new Random(seed);
    Path frames = Files.createDirectory(directory.resolve("frames"));
    Path sessions = directory.resolve("sessions");
    try (Program device = Program.emulator(directory, frames)) {
      String port = device.port();
      try (Program first = lapse(DIRECTLY, port, frames, sessions, 40)) {
        first.await(line -> is(line, "frame-matched"));
        killAfter(first, random);
      }
      Path session = only(sessions);
      for (int kills = 1; kills < 4 && !isClosed(session); kills++) {
        try (Program again = resume(sessions, session)) {
          killAfter(again, random);
        }
      }
      if (!isClosed(session)) {
        try (Program last = resume(sessions, session)) {
          assertEquals(0, last.exitCode(), last.errors());
        }
      }
      Set<Integer> places = requireOnce(session, frames);
      assertEquals(40, places.size(), "places of the grid: " + places);
    }
  }

  private Program resume(Path sessions, Path session) throws IOException {
    return Program.start(
        directory,
        "sessions",
        "resume",
        session.getFileName().toString(),
        "--json",
        "--sessions",
        sessions.toString());
  }

  /** After so many records; a program that ends before that is done. */
  private static void killAfter(Program program, Random random) throws Exception {
    int[] left = {1 + random.nextInt(14)};
    program.await(line -> --left[0] <= 0 || is(line, "report"));
    program.kill();
  }

  private static boolean isClosed(Path session) throws Exception {
    return records(session).stream().anyMatch(it -> it.event() instanceof Event.Report);
  }

  /** The whole records: a killed program may leave a part of one more. */
  private static List<JournalRecord> records(Path session) throws Exception {
    List<JournalRecord> records = new ArrayList<>();
    String text = Files.readString(session.resolve("journal.jsonl"));
    for (String line : text.substring(0, text.lastIndexOf('\n') + 1).lines().toList()) {
      records.add(EventJson.read(line));
    }
    return records;
  }

  /**
   * Each place is fired once or passed over, none left out, and there are no more presses than
   * shots.
   *
   * @return the places
   */
  private static Set<Integer> requireOnce(Path session, Path frames) throws Exception {
    Set<Integer> places = new HashSet<>();
    Set<Integer> shots = new HashSet<>();
    Set<String> credited = new HashSet<>();
    long seq = 0;
    for (JournalRecord record : records(session)) {
      assertEquals(++seq, record.seq());
      if (record.event() instanceof Event.ShotRamped shot) {
        assertTrue(places.add(shot.place()), "place " + shot.place() + " twice");
        assertTrue(shots.add(shot.shot()), "shot " + shot.shot() + " twice");
      } else if (record.event() instanceof Event.PlacesSkipped passed) {
        for (int place = passed.from(); place <= passed.to(); place++) {
          assertTrue(places.add(place), "place " + place + " twice");
        }
      } else if (record.event() instanceof Event.FrameMatched frame) {
        assertTrue(credited.add(frame.frame().file()), frame.frame().file() + " credited twice");
      }
    }
    for (int place = 1; place <= places.size(); place++) {
      assertTrue(places.contains(place), "place " + place + " is left out");
    }
    try (Stream<Path> files = Files.list(frames)) {
      long presses = files.filter(file -> file.toString().endsWith(".JPG")).count();
      assertTrue(presses <= shots.size(), presses + " presses of " + shots.size() + " shots");
    }
    assertTrue(!credited.isEmpty(), "no frame at all");
    return places;
  }

  @Test
  void aPortThatComesBackUnderAnotherNameIsTakenUpOnTheGrid() throws Exception {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    Path sessions = directory.resolve("sessions");
    Path link = directory.resolve("trigger");
    Program first = Program.emulator(directory, frames);
    try (Program second = Program.emulator(directory, frames)) {
      Files.createSymbolicLink(link, Path.of(first.port()));
      try (Program lapse = lapse(DIRECTLY, link.toString(), frames, sessions, MANY)) {
        lapse.await(line -> is(line, "frame-matched"));
        first.kill();
        lapse.await(line -> is(line, "trigger-lost"));
        Path again = directory.resolve("again");
        Files.createSymbolicLink(again, Path.of(second.port()));
        Files.move(again, link, StandardCopyOption.ATOMIC_MOVE);
        lapse.await(line -> is(line, "trigger-greeted"));
        lapse.await(line -> is(line, "shot-confirmed"));
        assertEquals(130, lapse.interrupt(), lapse.errors());
      }
    } finally {
      first.close();
    }
    requireOnce(only(sessions), frames);
  }

  @Test
  void aFullDiskUnderItsRecordsDoesNotEndIt() throws Exception {
    Path frames = Files.createDirectory(directory.resolve("frames"));
    Path sessions = Files.createDirectory(directory.resolve("sessions"));
    try (SmallDisk disk = SmallDisk.on(sessions, 8192);
        Program device = Program.emulator(directory, frames)) {
      try (Program lapse = lapse(disk.within(), device.port(), frames, sessions, MANY)) {
        lapse.await(line -> is(line, "frame-matched"));
        disk.fill(0);
        String alarm = lapse.await(line -> is(line, "alarm-raised"));
        assertTrue(alarm.contains("\"kind\":\"records\""), alarm);
        lapse.await(line -> is(line, "shot-commanded"));
        lapse.await(line -> is(line, "frame-matched"));
        disk.makeRoom();
        lapse.await(line -> is(line, "alarm-ended"));
        assertEquals(130, lapse.interrupt(), lapse.errors());
      }
      requireOnce(only(disk.seen()), frames);
    }
  }
}
