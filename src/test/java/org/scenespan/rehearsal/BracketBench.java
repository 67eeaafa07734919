package org.scenespan.rehearsal;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Rounding;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.BracketPlan;
import org.scenespan.plan.Decision;
import org.scenespan.plan.Evidence;
import org.scenespan.plan.Oracle;

/**
 * The bracket planner against the optimum and against what a photographer would do without it, over
 * real scenes. Writes docs/benchmarks-bracket.md.
 */
final class BracketBench {
  private static final double[] SNRS = {10, 20, 40};
  private static final double[] OVERHEADS = {0.5, 3};
  private static final String HEADING =
      """
      # The bracket planner against the optimum

      Written by `mvn -q -Pbench-bracket test-compile exec:java`. Each scene is photographed by the
      simulated sensor (50 000 e⁻, 3 e⁻, 14 bits, raw) with its log average at EV 12, shutters 1/8000
      to 30 s in thirds at f/8 and ISO 100, cold, with the usual tolerances. *Fewest* and *least* are
      exact optima over the known scene (dynamic programming over bins of 0.05 stop); bins that no
      exposure serves are left out for all. *Covers* counts runs in which the share of the pixels
      that no frame holds in every channel stays within both tolerances together.

      """;

  private static final int SEEDS = Integer.getInteger("scenespan.bench.seeds", 10);

  private static final Latitude LATITUDE =
      Latitude.of(
          new CameraRange(
              ShutterLadder.thirds(Shutter.parse("1/8000"), Shutter.parse("30s")),
              Iso.parse("100"),
              Iso.parse("100"),
              Aperture.parse("f/1.4"),
              Aperture.parse("f/22")),
          PictureLimits.at(Aperture.parse("f/8")));

  /** What one set of frames comes to. */
  private record Outcome(int frames, double seconds, double missed, boolean covers) {}

  /** A way to choose exposures. */
  private interface Photographer {
    List<Exposure> shoot(KnownScene scene, BracketGoal goal, long seed);
  }

  private record Rival(String name, Photographer photographer) {}

  private final List<KnownScene> scenes = new ArrayList<>();

  public static void main(String[] args) throws IOException {
    BracketBench bench = new BracketBench();
    bench.load();
    StringBuilder report = new StringBuilder();
    report.append(HEADING);
    bench.run(report);
    if (args.length > 0) {
      Files.writeString(Path.of(args[0]), report);
    }
    new PrintStream(System.out, true, StandardCharsets.UTF_8).print(report);
  }

  private void load() throws IOException {
    for (String name : Scene.names()) {
      scenes.add(new KnownScene(Scene.bundled(name, new Ev(12))));
    }
    Path shared = Path.of("../shared/data/scenes");
    if (Files.isDirectory(shared)) {
      try (Stream<Path> files = Files.list(shared)) {
        for (Path file : files.filter(f -> f.toString().endsWith(".hdr")).sorted().toList()) {
          scenes.add(new KnownScene(Scene.load(file, new Ev(12))));
        }
      }
    }
  }

  private static BracketGoal goal(double snr) {
    BracketGoal usual = BracketGoal.USUAL;
    return new BracketGoal(
        snr, usual.clipTolerance(), usual.shadowTolerance(), usual.overlap(), 30);
  }

  private static List<Exposure> planned(
      KnownScene scene, BracketGoal goal, long seed, double shutterError, double noiseError) {
    NoiseModel real = NoiseModel.TYPICAL;
    NoiseModel believed =
        new NoiseModel(
            real.fullWell() * (1 + noiseError),
            real.readNoise() * (1 - noiseError),
            real.bits(),
            real.baseIso());
    BracketPlan plan = new BracketPlan(goal, LATITUDE, believed);
    SplittableRandom random = new SplittableRandom(seed);
    List<Evidence> frames = new ArrayList<>();
    List<Exposure> exposures = new ArrayList<>();
    Decision decision = plan.first(Optional.empty(), Optional.of(new Ev(scene.meter())));
    while (decision instanceof Decision.Expose expose) {
      double off = shutterError * (2 * random.nextDouble() - 1);
      Exposure truly =
          expose
              .exposure()
              .withShutter(new Shutter(expose.exposure().shutter().seconds() * Math.pow(2, off)));
      exposures.add(truly);
      frames.add(scene.photograph(expose.exposure(), truly, real, seed));
      decision = plan.next(frames);
    }
    return exposures;
  }

  private static List<Exposure> around(KnownScene scene, int frames, double step) {
    List<Exposure> exposures = new ArrayList<>();
    for (int i = 0; i < frames; i++) {
      double ev = scene.meter() + (i - (frames - 1) / 2.0) * step;
      exposures.add(LATITUDE.at(new Ev(ev), Rounding.NEAREST));
    }
    return exposures;
  }

  private static List<Exposure> tiled(BracketGoal goal) {
    double step = NoiseModel.TYPICAL.width(goal.snr(), Iso.EV_BASE).value() - 1.0 / 3;
    List<Exposure> exposures = new ArrayList<>();
    double last = LATITUDE.brightest().ev().value();
    for (double ev = LATITUDE.darkest().ev().value(); ev > last - step; ev -= step) {
      exposures.add(LATITUDE.at(new Ev(ev), Rounding.NEAREST));
    }
    return exposures;
  }

  /**
   * The greedy cover of Barakat, Hone and Darcie (2008): every pixel properly exposed by its code
   * in some frame, here codes 16 to 250 of an 8-bit sRGB picture, whatever its signal-to-noise.
   */
  private static List<Exposure> byCodes(KnownScene scene, BracketGoal goal) {
    double window = 7.6;
    double top = -0.07;
    double[] ends = scene.ends(goal);
    double high = scene.meter() + ends[0];
    double low = scene.meter() - ends[1];
    List<Exposure> exposures = new ArrayList<>();
    double covered = high;
    while (covered > low && exposures.size() < 30) {
      Exposure next = LATITUDE.at(new Ev(covered - 2.977 - top), Rounding.DARKER);
      exposures.add(next);
      double reached = next.ev().value() + 2.977 + top - window;
      if (reached >= covered) {
        break;
      }
      covered = reached;
    }
    return exposures;
  }

  private static Outcome judge(
      KnownScene scene, BracketGoal goal, List<Exposure> exposures, double overhead) {
    NoiseModel noise = NoiseModel.TYPICAL;
    List<Reach> reaches = exposures.stream().map(e -> noise.reach(e, goal.snr())).toList();
    Reach feasible =
        new Reach(
            noise.reach(LATITUDE.brightest(), goal.snr()).low(),
            noise.reach(LATITUDE.darkest(), goal.snr()).high());
    double missed = scene.missed(reaches, feasible);
    double allowed = goal.clipTolerance().value() + goal.shadowTolerance().value();
    double seconds = exposures.stream().mapToDouble(e -> e.shutter().seconds() + overhead).sum();
    return new Outcome(exposures.size(), seconds, missed, missed <= allowed);
  }

  private static Oracle oracle(double snr, double overhead) {
    List<Oracle.Frame> frames = new ArrayList<>();
    for (Shutter shutter : Shutter.thirds(Shutter.parse("1/8000"), Shutter.parse("30s"))) {
      Exposure exposure = LATITUDE.darkest().withShutter(shutter);
      Reach reach = NoiseModel.TYPICAL.reach(exposure, snr);
      frames.add(new Oracle.Frame(reach.low().value(), reach.high().value(), shutter.seconds()));
    }
    return new Oracle(frames, overhead);
  }

  private void run(StringBuilder out) {
    List<Rival> rivals = new ArrayList<>();
    rivals.add(new Rival("Scenespan", (s, g, seed) -> planned(s, g, seed, 0, 0)));
    rivals.add(
        new Rival("… shutters off by ±0.1 stop", (s, g, seed) -> planned(s, g, seed, 0.1, 0)));
    rivals.add(
        new Rival("… noise believed 20 % better", (s, g, seed) -> planned(s, g, seed, 0, 0.2)));
    rivals.add(
        new Rival("… noise believed 20 % worse", (s, g, seed) -> planned(s, g, seed, 0, -0.2)));
    for (int frames : new int[] {3, 5, 7, 9}) {
      for (int step : new int[] {1, 2}) {
        rivals.add(
            new Rival(
                frames + " frames at " + step + " stop" + (step > 1 ? "s" : ""),
                (s, g, seed) -> around(s, frames, step)));
      }
    }
    rivals.add(new Rival("blind tiling", (s, g, seed) -> tiled(g)));
    rivals.add(new Rival("cover by code range", (s, g, seed) -> byCodes(s, g)));
    out.append(
        "| photographer | SNR | overhead s | frames / fewest | worst excess | time / least"
            + " | covers | worst missed |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n");
    for (Rival rival : rivals) {
      for (double snr : SNRS) {
        for (double overhead : OVERHEADS) {
          row(out, rival, snr, overhead);
        }
      }
    }
    byScene(out);
    against(out);
  }

  private void row(StringBuilder out, Rival rival, double snr, double overhead) {
    BracketGoal goal = goal(snr);
    Oracle oracle = oracle(snr, overhead);
    double frames = 0;
    double time = 0;
    int worst = 0;
    double missed = 0;
    int covers = 0;
    int count = 0;
    for (KnownScene scene : scenes) {
      double[] bins = scene.required(goal);
      Oracle.Cover fewest = oracle.fewest(bins);
      Oracle.Cover least = oracle.leastTime(bins);
      for (long seed = 1; seed <= SEEDS; seed++) {
        Outcome outcome = judge(scene, goal, rival.photographer.shoot(scene, goal, seed), overhead);
        frames += (double) outcome.frames / fewest.frames().size();
        time += outcome.seconds / least.seconds();
        worst = Math.max(worst, outcome.frames - fewest.frames().size());
        missed = Math.max(missed, outcome.missed);
        covers += outcome.covers ? 1 : 0;
        count++;
      }
    }
    out.append(
        String.format(
            Locale.ROOT,
            "| %s | %.0f | %.1f | %.3f | %+d | %.3f | %d of %d | %.3f %% |%n",
            rival.name,
            snr,
            overhead,
            frames / count,
            worst,
            time / count,
            covers,
            count,
            100 * missed));
  }

  private void byScene(StringBuilder out) {
    out.append("\n| scene | bright end | dark end |");
    for (double snr : SNRS) {
      out.append(String.format(Locale.ROOT, " SNR %.0f |", snr));
    }
    out.append("\n| --- | --- | --- | --- | --- | --- |\n");
    for (KnownScene scene : scenes) {
      double[] ends = scene.ends(goal(10));
      out.append(
          String.format(Locale.ROOT, "| %s | +%.1f | −%.1f |", scene.name(), ends[0], ends[1]));
      for (double snr : SNRS) {
        BracketGoal goal = goal(snr);
        double mean = 0;
        for (long seed = 1; seed <= SEEDS; seed++) {
          mean += planned(scene, goal, seed, 0, 0).size();
        }
        int fewest = oracle(snr, 1).fewest(scene.required(goal)).frames().size();
        out.append(String.format(Locale.ROOT, " %.1f of %d |", mean / SEEDS, fewest));
      }
      out.append('\n');
    }
  }

  /** How much faster than the fastest fixed bracket that covers the same scene. */
  private void against(StringBuilder out) {
    for (double overhead : OVERHEADS) {
      List<Double> ratios = new ArrayList<>();
      int never = 0;
      for (double snr : SNRS) {
        BracketGoal goal = goal(snr);
        for (KnownScene scene : scenes) {
          double best = Double.POSITIVE_INFINITY;
          for (int frames : new int[] {3, 5, 7, 9}) {
            for (int step : new int[] {1, 2}) {
              Outcome fixed = judge(scene, goal, around(scene, frames, step), overhead);
              best = fixed.covers ? Math.min(best, fixed.seconds) : best;
            }
          }
          if (best == Double.POSITIVE_INFINITY) {
            never++;
            continue;
          }
          Outcome ours = judge(scene, goal, planned(scene, goal, 1, 0, 0), overhead);
          ratios.add(best / ours.seconds);
        }
      }
      double[] sorted = ratios.stream().mapToDouble(Double::doubleValue).sorted().toArray();
      out.append(
          String.format(
              Locale.ROOT,
              "%nOverhead %.1f s: the fastest fixed bracket that covers takes %.2f times as long on"
                  + " the median (%.2f to %.2f, %d cases); in %d cases none of them covers.%n",
              overhead,
              sorted.length == 0 ? Double.NaN : sorted[sorted.length / 2],
              sorted.length == 0 ? Double.NaN : sorted[0],
              sorted.length == 0 ? Double.NaN : sorted[sorted.length - 1],
              sorted.length,
              never));
    }
    out.append('\n');
    out.append(String.format(Locale.ROOT, "%n%d scenes, %d seeds.%n", scenes.size(), SEEDS));
  }
}
