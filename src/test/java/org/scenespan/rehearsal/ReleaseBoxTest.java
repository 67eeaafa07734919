package org.scenespan.rehearsal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.google.common.jimfs.Configuration;
import com.google.common.jimfs.Jimfs;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.folder.FrameReader;
import org.scenespan.folder.UnreadableFrame;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;

/** A box that only releases, and the camera behind it that meters and brackets by itself. */
class ReleaseBoxTest {
  private static final Instant START = Instant.parse("2026-05-04T03:00:00Z");

  private Path folder;

  @BeforeEach
  void makeFolder() throws IOException {
    folder = Jimfs.newFileSystem(Configuration.unix()).getPath("/frames");
    Files.createDirectory(folder);
  }

  private SimulatedRig rig(int frames, boolean burst) {
    return new SimulatedRig(
        RigSettings.TYPICAL.withOwn(OwnExposure.around(frames, new Stops(2), burst)),
        Scene.bundled("flat", new Ev(12)),
        folder,
        Faults.NONE);
  }

  private static String ask(SimulatedRig rig, String line, Instant now) {
    rig.receive((line + "\n").getBytes(StandardCharsets.US_ASCII), now);
    rig.runDue(now.plusMillis(5));
    return new String(rig.takeOutput(), StandardCharsets.US_ASCII).strip();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "ID?    | ID SCENESPAN,RELEASE BOX,0,1.0",
        "HALF   | HALF OK",
        "FIRE 7 | FIRED 7",
        "FIRE 0 | ERR no such command",
        "FIRE   | ERR no such command",
        "*IDN?  | ERR no such command",
        "''     | ''",
      })
  void answersItsFewWords(String line, String reply) {
    assertEquals(reply, ask(rig(1, false), line, START));
  }

  @Test
  void refusesWhileTheCameraExposes() {
    SimulatedRig rig = rig(3, true);
    assertEquals("FIRED 1", ask(rig, "FIRE 1", START));
    assertEquals("ERR the camera is busy", ask(rig, "FIRE 2", START.plusMillis(200)));
    assertEquals("FIRED 3", ask(rig, "FIRE 3", START.plusSeconds(20)));
  }

  /** By the meter at EV 12, f/8 and ISO 100: 1/64 s, engraved 1/60. */
  @ParameterizedTest
  @CsvSource({"3, true, 1, '0 -2 2'", "3, false, 4, '0 -2 2 0'", "1, false, 2, '0 0'"})
  void exposesByItsOwnMeterAndSequence(int frames, boolean burst, int releases, String biases)
      throws IOException, UnreadableFrame {
    SimulatedRig rig = rig(frames, burst);
    Instant now = START;
    for (int shot = 1; shot <= releases; shot++) {
      ask(rig, "FIRE " + shot, now);
      now = now.plus(Duration.ofSeconds(30));
      rig.runDue(now);
    }
    List<Path> files;
    try (Stream<Path> all = Files.list(folder)) {
      files = all.sorted().toList();
    }
    StringBuilder told = new StringBuilder();
    for (Path file : files) {
      FrameMetadata metadata = new FrameReader().read(file).metadata();
      double bias = metadata.compensation().orElseThrow().value();
      told.append(told.isEmpty() ? "" : " ").append(Math.round(bias));
      assertEquals(12 - bias, metadata.exposure().orElseThrow().ev().value(), 0.17);
    }
    assertEquals(biases, told.toString());
  }
}
