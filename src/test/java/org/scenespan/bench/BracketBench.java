package org.scenespan.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.scenespan.light.Ev;
import org.scenespan.plan.Known;
import org.scenespan.plan.Oracle;
import org.scenespan.rehearsal.Scene;

/**
 * Holds the bracket's plan against the optimum and against other ways to bracket, on real scenes
 * and on drawn ones, and writes a table and a plot.
 */
public final class BracketBench {
  static final List<Double> SNRS = List.of(10.0, 20.0, 40.0);
  static final List<Double> OVERHEADS = List.of(0.5, 3.0);
  static final int SEEDS = 10;

  private final List<TrueScene> scenes = new ArrayList<>();
  private final List<Row> rows = new ArrayList<>();

  /** One bracket beside its optimum. */
  record Row(
      String scene,
      double snr,
      double overhead,
      boolean warm,
      int seed,
      Trial.Wrong wrong,
      int frames,
      int fewest,
      double seconds,
      double least,
      Trial.Quality quality,
      int wasted,
      double bestFixedSeconds,
      Rivals rivals) {}

  /**
   * Seconds of each rival over the least, and whether it covers; only of brackets as they should
   * be.
   */
  record Rivals(List<Double> seconds, List<Boolean> covers) {
    static final List<String> NAMES =
        List.of(
            "3 frames, 1 stop",
            "5 frames, 1 stop",
            "7 frames, 1 stop",
            "9 frames, 1 stop",
            "3 frames, 2 stops",
            "5 frames, 2 stops",
            "7 frames, 2 stops",
            "9 frames, 2 stops",
            "whole range tiled",
            "greedy by codes");
    static final int FIXED = 8;
  }

  public static void main(String[] words) throws IOException {
    long start = System.nanoTime();
    BracketBench bench = new BracketBench();
    bench.load(Path.of("../shared/data/scenes"));
    bench.run();
    Path docs = Path.of(words.length > 0 ? words[0] : "docs");
    String report = BracketReport.of(bench.scenes, bench.rows);
    Files.writeString(docs.resolve("benchmarks-bracket.md"), report);
    Files.writeString(docs.resolve("benchmarks-bracket.svg"), BracketPlot.of(bench.rows));
    System.out.println(report);
    System.out.printf(Locale.ROOT, "%.0f s%n", (System.nanoTime() - start) / 1e9);
  }

  private void load(Path folder) throws IOException {
    if (Files.isDirectory(folder)) {
      try (Stream<Path> files = Files.list(folder)) {
        files
            .filter(file -> file.toString().endsWith(".hdr"))
            .sorted()
            .forEach(file -> scenes.add(TrueScene.of(Scene.load(file, new Ev(12)))));
      }
    }
    Scene.names().forEach(name -> scenes.add(TrueScene.of(Scene.bundled(name, new Ev(12)))));
  }

  private void run() {
    for (TrueScene scene : scenes) {
      for (double snr : SNRS) {
        IntStream.range(0, SEEDS)
            .parallel()
            .mapToObj(seed -> ofSeed(scene, snr, seed))
            .toList()
            .forEach(rows::addAll);
      }
    }
  }

  private static List<Row> ofSeed(TrueScene scene, double snr, int seed) {
    List<Row> rows = new ArrayList<>();
    Optional<Known.EarlierSpan> earlier =
        new Trial(scene, snr, OVERHEADS.get(0), seed, Trial.Wrong.NOTHING).earlier();
    for (double overhead : OVERHEADS) {
      for (Trial.Wrong wrong : Trial.Wrong.values()) {
        if (wrong != Trial.Wrong.NOTHING && overhead != OVERHEADS.get(0)) {
          continue;
        }
        Trial trial = new Trial(scene, snr, overhead, seed, wrong);
        double[] required = trial.required();
        Oracle.Cover fewest = trial.oracle().fewest(required);
        Oracle.Cover least = trial.oracle().leastTime(required);
        for (boolean warm : List.of(false, true)) {
          Trial.Shots shots = trial.run(warm ? earlier : Optional.empty());
          List<Trial.Shots> others =
              wrong == Trial.Wrong.NOTHING && !warm ? rivals(trial) : List.of();
          rows.add(
              new Row(
                  scene.name().replace("_1k", "").replace(".hdr", ""),
                  snr,
                  overhead,
                  warm,
                  seed,
                  wrong,
                  shots.exposures().size(),
                  fewest.frames().size(),
                  shots.seconds(overhead),
                  least.seconds(),
                  trial.quality(shots),
                  shots.wasted(),
                  others.stream()
                      .limit(Rivals.FIXED)
                      .filter(Trial.Shots::covered)
                      .mapToDouble(other -> other.seconds(overhead))
                      .min()
                      .orElse(Double.NaN),
                  new Rivals(
                      others.stream().map(o -> o.seconds(overhead) / least.seconds()).toList(),
                      others.stream().map(Trial.Shots::covered).toList())));
        }
      }
    }
    return rows;
  }

  private static List<Trial.Shots> rivals(Trial trial) {
    List<Trial.Shots> rivals = new ArrayList<>();
    for (double step : List.of(1.0, 2.0)) {
      for (int frames : List.of(3, 5, 7, 9)) {
        rivals.add(trial.fixed(frames, step));
      }
    }
    rivals.add(trial.tiling());
    rivals.add(trial.byCodes());
    return rivals;
  }

  static double mean(List<Row> rows, ToDoubleFunction<Row> value) {
    return rows.stream().mapToDouble(value).average().orElse(Double.NaN);
  }

  static double most(List<Row> rows, ToDoubleFunction<Row> value) {
    return rows.stream().mapToDouble(value).max().orElse(Double.NaN);
  }

  static double median(double[] values) {
    double[] sorted = Arrays.stream(values).filter(v -> !Double.isNaN(v)).sorted().toArray();
    return sorted.length == 0 ? Double.NaN : sorted[sorted.length / 2];
  }

  static List<String> names(List<Row> rows) {
    return rows.stream()
        .map(Row::scene)
        .distinct()
        .sorted(Comparator.comparing(name -> name.toLowerCase(Locale.ROOT)))
        .toList();
  }
}
