package org.scenespan.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.stream.Collectors;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.RepetitionInfo;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Iso;

/** The oracle against the golden table, and against trying every set. */
class OracleTest {
  private static final double OVERHEAD_SECONDS = 1;
  private static final double LOWEST_RATE_STOPS = 8;

  /**
   * Golden cases of the project's check values, section 3 [computed]: full well 50 000 e⁻, read
   * noise 3 e⁻, 14 bits, headroom 0.95, signal-to-noise 10, 1 s overhead, shutters 2^(k/3) s for k
   * from −39 to 15, a scene uniform in log over D stops from 2⁸ electrons a second.
   */
  @ParameterizedTest
  @CsvSource({
    "4, -3, 1.5000",
    "8, -3, 1.5000",
    "8.5, -3, 1.5000",
    "8.75, -3 -29, 2.5012",
    "12, -3 -29, 2.5012",
    "16, -3 -29, 2.5012",
    "17, -3 -29, 2.5012",
    "17.25, -3 -29 -39, 3.5014",
    "17.5, -3 -29 -39, 3.5014",
    "20, -3 -29 -39, 3.5014"
  })
  void reproducesTheGoldenTable(double stops, String steps, String seconds) {
    NoiseModel noise = NoiseModel.TYPICAL;
    double least = log2(noise.leastSignal(10, Iso.EV_BASE));
    double most = log2(NoiseModel.HEADROOM * noise.fullWell());
    List<Oracle.Frame> frames = new ArrayList<>();
    for (int k = -39; k <= 15; k++) {
      frames.add(new Oracle.Frame(least - k / 3.0, most - k / 3.0, Math.pow(2, k / 3.0)));
    }
    double[] bins = new double[(int) Math.rint(stops / Oracle.BIN_STOPS)];
    Arrays.setAll(bins, i -> LOWEST_RATE_STOPS + i * Oracle.BIN_STOPS);
    Oracle oracle = new Oracle(frames, OVERHEAD_SECONDS);
    for (Oracle.Cover cover : List.of(oracle.fewest(bins), oracle.leastTime(bins))) {
      assertEquals(
          steps,
          cover.frames().stream()
              .map(frame -> String.valueOf(Math.round(3 * log2(frame.seconds()))))
              .collect(Collectors.joining(" ")));
      assertEquals(seconds, String.format(Locale.ROOT, "%.4f", cover.seconds()));
      assertEquals(0, cover.infeasible());
    }
  }

  /** Small instances, where every set of frames can be tried. */
  @RepeatedTest(200)
  void isAsGoodAsTryingEverySet(RepetitionInfo repetition) {
    SplittableRandom random = new SplittableRandom(repetition.getCurrentRepetition());
    List<Oracle.Frame> frames = new ArrayList<>();
    for (int i = 0; i < 9; i++) {
      double low = random.nextInt(20) * Oracle.BIN_STOPS;
      double width = (1 + random.nextInt(8)) * Oracle.BIN_STOPS;
      frames.add(new Oracle.Frame(low, low + width, 0.01 + random.nextDouble()));
    }
    double[] bins =
        random.ints(12, 0, 24).distinct().sorted().mapToDouble(i -> i * Oracle.BIN_STOPS).toArray();
    Oracle oracle = new Oracle(frames, 0.3);
    double[] feasible =
        Arrays.stream(bins)
            .filter(bin -> frames.stream().anyMatch(frame -> serves(frame, bin)))
            .toArray();
    int fewest = Integer.MAX_VALUE;
    double least = Double.POSITIVE_INFINITY;
    for (int set = 0; set < 1 << frames.size(); set++) {
      List<Oracle.Frame> chosen = new ArrayList<>();
      double seconds = 0;
      for (int i = 0; i < frames.size(); i++) {
        if ((set >> i & 1) != 0) {
          chosen.add(frames.get(i));
          seconds += 0.3 + frames.get(i).seconds();
        }
      }
      boolean covers =
          Arrays.stream(feasible)
              .allMatch(bin -> chosen.stream().anyMatch(frame -> serves(frame, bin)));
      if (covers) {
        fewest = Math.min(fewest, chosen.size());
        least = Math.min(least, seconds);
      }
    }
    assertEquals(fewest, oracle.fewest(bins).frames().size());
    assertEquals(least, oracle.leastTime(bins).seconds(), 1e-9);
    assertEquals(bins.length - feasible.length, oracle.fewest(bins).infeasible());
    assertTrue(oracle.fewest(bins).seconds() >= least - 1e-9);
    // The best set has some first frame.
    assertEquals(
        fewest,
        frames.stream()
            .mapToInt(frame -> oracle.fewest(frame, bins).frames().size())
            .min()
            .orElseThrow());
    assertEquals(
        least,
        frames.stream()
            .mapToDouble(frame -> oracle.leastTime(frame, bins).seconds())
            .min()
            .orElseThrow(),
        1e-9);
  }

  private static boolean serves(Oracle.Frame frame, double bin) {
    return frame.low() <= bin + 1e-9 && frame.high() >= bin + Oracle.BIN_STOPS - 1e-9;
  }

  private static double log2(double value) {
    return Math.log(value) / Math.log(2);
  }
}
