package org.scenespan.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/** The golden covers: 50 000 e-, 3 e-, 14 bits, SNR 10, 1 s overhead, 2^(k/3) s, k −39 to 15. */
class OracleTest {
  private static final Oracle ORACLE = new Oracle(grid(), NoiseModel.TYPICAL, 10, 1);

  private static List<Exposure> grid() {
    return IntStream.rangeClosed(-39, 15)
        .mapToObj(k -> new Exposure(Shutter.ofThird(k), Aperture.ofNominal(8), Iso.EV_BASE))
        .toList();
  }

  /** Uniform in log over some stops from 2^8 e-/s. */
  private static List<Ev> uniform(double stops) {
    Exposure second = new Exposure(Shutter.ofThird(0), Aperture.ofNominal(8), Iso.EV_BASE);
    double saturation = MidGrey.saturation(second).value();
    double low = saturation + 8 - Math.log(NoiseModel.TYPICAL.fullWell()) / Math.log(2);
    List<Ev> bins = new ArrayList<>();
    for (int bin = 0; bin < Math.round(stops / Oracle.BIN_STOPS); bin++) {
      bins.add(new Ev(low + bin * Oracle.BIN_STOPS));
    }
    return bins;
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "4 | -3 | 1.5000",
        "8 | -3 | 1.5000",
        "8.5 | -3 | 1.5000",
        "8.75 | -3, -29 | 2.5012",
        "12 | -3, -29 | 2.5012",
        "16 | -3, -29 | 2.5012",
        "17 | -3, -29 | 2.5012",
        "17.25 | -3, -29, -39 | 3.5014",
        "17.5 | -3, -29, -39 | 3.5014",
        "20 | -3, -29, -39 | 3.5014",
      })
  void findsTheFewestAndTheQuickest(double stops, String steps, String seconds) {
    for (Oracle.Cover cover :
        List.of(ORACLE.fewestFrames(uniform(stops)), ORACLE.leastTime(uniform(stops)))) {
      String found =
          String.join(
              ", ",
              cover.frames().stream()
                  .map(frame -> "" + frame.shutter().third().orElseThrow())
                  .toList());
      assertEquals(steps, found);
      assertEquals(seconds, String.format(java.util.Locale.ROOT, "%.4f", cover.seconds()));
      assertTrue(cover.infeasible().isEmpty());
    }
  }

  @Test
  void leavesOutWhatNoExposureCanServe() {
    List<Ev> bins = uniform(40);
    Oracle.Cover cover = ORACLE.fewestFrames(bins);
    assertTrue(cover.infeasible().size() > 100, "a scene wider than the grid");
    assertEquals(3, cover.frames().size());
  }

  /** A stretch without light needs no frame: two narrow patches 20 stops apart need two. */
  @Test
  void needsNoFrameWhereThereIsNoLight() {
    List<Ev> bins = new ArrayList<>(uniform(1));
    uniform(1).forEach(bin -> bins.add(new Ev(bin.value() + 20)));
    assertEquals(2, ORACLE.fewestFrames(bins).frames().size());
  }
}
