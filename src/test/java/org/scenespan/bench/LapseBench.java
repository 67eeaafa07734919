package org.scenespan.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * Holds the lapse's ramp against its goals and against other ways to set a frame, through measured
 * dawns and the sky's, and writes a table and a plot.
 */
public final class LapseBench {
  static final int[] INTERVALS = {2, 5, 10, 30};
  static final int SEEDS = 20;

  /** A hundredth of a millisecond: at the brightest scene here a step of 0.014 stop. */
  static final double TIMER_SECONDS = 0.00001;

  final List<LapseLight> lights = new ArrayList<>();
  final List<Cell> cells = new ArrayList<>();
  String missing = "";

  /**
   * Twenty lapses of one light, interval and way.
   *
   * @param way {@code ramp}, {@code ramp, sky known} or a rival's words
   * @param isTimed whether a device times by itself, else thirds
   */
  record Cell(
      String light, int interval, String way, boolean isTimed, List<LapseTrial.Result> results) {
    /** Over all frames of all seeds. */
    double rms() {
      double sum = 0;
      for (LapseTrial.Result result : results) {
        sum += result.rms() * result.rms();
      }
      return Math.sqrt(sum / results.size());
    }

    double worst(java.util.function.ToDoubleFunction<LapseTrial.Result> measure) {
      return results.stream().mapToDouble(measure).max().orElseThrow();
    }

    double mean(java.util.function.ToDoubleFunction<LapseTrial.Result> measure) {
      return results.stream().mapToDouble(measure).average().orElseThrow();
    }
  }

  public static void main(String[] words) throws IOException {
    long start = System.nanoTime();
    int seeds = Integer.getInteger("scenespan.seeds", SEEDS);
    LapseBench bench = new LapseBench();
    bench.load(Path.of("../shared/data/light"));
    bench.run(seeds);
    Path docs = Path.of(words.length > 0 ? words[0] : "docs");
    double seconds = (System.nanoTime() - start) / 1e9;
    String report = LapseReport.of(bench, seeds, seconds);
    Files.writeString(docs.resolve("benchmarks-lapse.md"), report);
    Files.writeString(docs.resolve("benchmarks-lapse.svg"), LapsePlot.of(bench));
    System.out.println(report);
  }

  private void load(Path measured) throws IOException {
    for (double latitude : new double[] {0, 40, 60}) {
      lights.add(LapseLight.sky(latitude));
    }
    if (!Files.isDirectory(measured)) {
      missing = "The measured dawns are left out: there is no folder " + measured + ".";
      return;
    }
    try (Stream<Path> files = Files.list(measured)) {
      files
          .filter(file -> file.toString().endsWith(".csv"))
          .sorted(Comparator.naturalOrder())
          .forEach(file -> lights.add(LapseLight.measured(file)));
    }
  }

  private void run(int seeds) {
    for (LapseLight light : lights) {
      for (int interval : INTERVALS) {
        for (boolean isTimed : new boolean[] {true, false}) {
          for (boolean known : new boolean[] {false, true}) {
            boolean timed = isTimed;
            boolean sky = known;
            List<LapseTrial.Result> results =
                IntStream.range(0, seeds)
                    .parallel()
                    .mapToObj(seed -> trial(light, interval, seed, timed).ramped(sky))
                    .toList();
            String way = known ? "ramp, sky known" : "ramp";
            cells.add(new Cell(light.name(), interval, way, isTimed, results));
          }
        }
        for (LapseTrial.Rival rival : LapseTrial.Rival.values()) {
          List<LapseTrial.Result> results = new ArrayList<>();
          for (int seed = 0; seed < seeds; seed++) {
            results.add(trial(light, interval, seed, true).rival(rival));
          }
          cells.add(new Cell(light.name(), interval, rival.words, true, results));
        }
        System.err.printf(Locale.ROOT, "%s, %d s%n", light.name(), interval);
      }
    }
  }

  private static LapseTrial trial(LapseLight light, int interval, int seed, boolean isTimed) {
    return new LapseTrial(light, interval, seed, isTimed ? TIMER_SECONDS : 0);
  }

  Cell cell(String light, int interval, String way, boolean isTimed) {
    return cells.stream()
        .filter(
            it ->
                it.light().equals(light)
                    && it.interval() == interval
                    && it.way().equals(way)
                    && it.isTimed() == isTimed)
        .findFirst()
        .orElseThrow();
  }

  /** The rival whose exposures are smoothest in a light at an interval. */
  Cell bestRival(String light, int interval) {
    return Stream.of(LapseTrial.Rival.values())
        .map(rival -> cell(light, interval, rival.words, true))
        .min(Comparator.comparingDouble(it -> it.mean(LapseTrial.Result::before)))
        .orElseThrow();
  }
}
