package org.scenespan.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.List;
import java.util.stream.LongStream;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Where nothing is wrong no alarm is raised: dawns with clouds, a lens that scatters, and noise.
 * {@code -Dscenespan.dawn.seeds=N} takes more of them.
 */
class QuietDawnTest {
  @TempDir private Path directory;

  static LongStream seeds() {
    return LongStream.rangeClosed(1, Long.getLong("scenespan.dawn.seeds", 3));
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void raisesNoAlarm(long seed) {
    Ran ran =
        Ran.of(
            "lapse",
            "--simulate",
            seed % 2 == 0 ? "sunset" : "sunrise",
            "--at",
            "46.5,8.0",
            "--date",
            "2026-06-01",
            "--interval",
            "120s",
            "--clouds",
            "--lens-scatter",
            "0.1",
            "--seed",
            Long.toString(seed),
            "--json",
            "--sessions",
            directory.toString());
    assertEquals(0, ran.code(), ran.err());
    List<String> alarms =
        ran.out().lines().filter(line -> line.contains("\"type\":\"alarm-raised\"")).toList();
    assertEquals(List.of(), alarms);
  }
}
