package org.scenespan.jar;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.scenespan.light.Ev;
import org.scenespan.session.Event;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/**
 * The packaged program killed after each record of a bracket of ten frames, and resumed: it takes
 * what an undisturbed one takes, or says of which lost shot a frame was the retake.
 */
@Timeout(600)
class KilledAtEveryRecordIT {
  /** Narrow reaches and a wide overlap: many frames. */
  private static final String[] MANY_FRAMES = {
    "--snr", "60", "--overlap", "2.0", "--max-frames", "20", "--json", "--sessions", "sessions"
  };

  @TempDir private Path directory;

  @Test
  void nothingIsMissing() throws Exception {
    Path whole = Files.createDirectory(directory.resolve("whole"));
    List<JournalRecord> undisturbed = run(whole, Integer.MAX_VALUE);
    Set<Ev> wanted = exposures(undisturbed);
    assertTrue(wanted.size() >= 10, wanted.size() + " frames");
    int records = undisturbed.size();
    List<String> wrong =
        IntStream.rangeClosed(1, records)
            .parallel()
            .mapToObj(record -> killedAfter(record, wanted))
            .flatMap(List::stream)
            .toList();
    assertEquals(List.of(), wrong);
  }

  private List<String> killedAfter(int record, Set<Ev> wanted) {
    List<String> wrong = new ArrayList<>();
    try {
      Path place = Files.createDirectory(directory.resolve("killed-" + record));
      List<JournalRecord> resumed = run(place, record);
      Event.BracketReport report = (Event.BracketReport) resumed.get(resumed.size() - 1).event();
      if (!report.covered()) {
        wrong.add("after record " + record + ": " + report.why());
      }
      Set<Integer> commanded = new HashSet<>();
      boolean lost = false;
      for (JournalRecord one : resumed) {
        lost |= one.event() instanceof Event.ShotLost;
        if (one.event() instanceof Event.ShotCommanded shot && !commanded.add(shot.shot())) {
          wrong.add("after record " + record + ": shot " + shot.shot() + " commanded twice");
        }
      }
      Set<Ev> got = exposures(resumed);
      if (!lost && !got.equals(wanted)) {
        wrong.add("after record " + record + ": " + got + " where " + wanted + " was wanted");
      }
    } catch (Exception | AssertionError failed) {
      wrong.add("after record " + record + ": " + failed);
    }
    return wrong;
  }

  /** Runs in virtual time, killed after so many records, and then resumed to its end. */
  private List<JournalRecord> run(Path place, int records) throws Exception {
    Files.write(place.resolve("scene.hdr"), scene());
    List<String> words = new ArrayList<>(List.of("bracket", "--simulate", "scene.hdr"));
    words.addAll(List.of(MANY_FRAMES));
    try (Program program = Program.start(place, words.toArray(String[]::new))) {
      if (records == Integer.MAX_VALUE) {
        assertEquals(0, program.exitCode(), program.errors());
      } else {
        int[] seen = {0};
        program.await(line -> ++seen[0] == records);
        program.kill();
      }
    }
    Path session = onlySession(place);
    Path journal = session.resolve("journal.jsonl");
    if (!Files.readString(journal).contains("\"type\":\"report\"")) {
      String name = session.getFileName().toString();
      try (Program program =
          Program.start(place, "sessions", "resume", name, "--json", "--sessions", "sessions")) {
        assertEquals(0, program.exitCode(), program.errors());
      }
    }
    List<JournalRecord> read = new ArrayList<>();
    for (String line : Files.readAllLines(journal)) {
      read.add(EventJson.read(line));
    }
    return read;
  }

  private static Path onlySession(Path place) throws IOException {
    try (Stream<Path> sessions = Files.list(place.resolve("sessions"))) {
      List<Path> all = sessions.toList();
      assertEquals(1, all.size());
      return all.get(0);
    }
  }

  private static Set<Ev> exposures(List<JournalRecord> records) {
    Set<Ev> exposures = new TreeSet<>();
    for (JournalRecord record : records) {
      if (record.event() instanceof Event.FrameAccepted frame) {
        exposures.add(frame.exposure().ev());
      }
    }
    return exposures;
  }

  /** Fourteen stops in 48 × 32 pixels, as a Radiance file of flat pixels. */
  private static byte[] scene() {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    bytes.writeBytes(
        "#?RADIANCE\nFORMAT=32-bit_rle_rgbe\n\n-Y 32 +X 48\n".getBytes(StandardCharsets.US_ASCII));
    for (int i = 0; i < 48 * 32; i++) {
      double level = 14.0 * i / (48 * 32 - 1);
      int mantissa = (int) Math.min(255, 128 * Math.pow(2, level - Math.floor(level)));
      bytes.writeBytes(new byte[] {(byte) mantissa, (byte) mantissa, (byte) mantissa});
      bytes.write(121 + (int) Math.floor(level));
    }
    return bytes.toByteArray();
  }
}
