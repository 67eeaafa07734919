package org.scenespan.bench;

import java.util.List;
import java.util.Locale;
import org.scenespan.bench.BracketBench.Row;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Iso;
import org.scenespan.plan.BracketGoal;

/** The benchmark's tables. */
final class BracketReport {
  private BracketReport() {}

  static String of(List<TrueScene> scenes, List<Row> rows) {
    StringBuilder text = new StringBuilder();
    text.append(
        """
        # The bracket against the optimum

        Written by `mvn -q -B -Pbench-bracket test-compile exec:java`; do not edit. Real scenes are read
        from `../shared/data/scenes` where that is there, the others are drawn by code. Each scene
        is seen in ten lights (its log average at EV 6 to 13, by the seed) by a camera of 50 000 e⁻,
        3 e⁻, 14 bits, f/8, ISO 100, 1/8000 to 30 s. The optimum knows every pixel: the fewest
        frames, and the least time, that hold every 0.05-stop bin with light in it between the
        clip and the shadow tolerance. *Below* is the share of the picture whose luminance or
        brightest channel lies in no frame's reach, as the optimum counts; *coloured* the share
        whose luminance is below the asked signal-to-noise in every frame that clips none of their
        three channels, which is stricter than what the optimum is asked.

        ![Time over the least possible, by scene](benchmarks-bracket.svg)

        ## All scenes

        | start | SNR | what goes wrong | frames / fewest | worst | time / least | below, worst | below, mean | coloured, mean | merged, mean | clipped, worst | overshoot, stops | wasted |
        | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
        """);
    for (boolean warm : List.of(false, true)) {
      for (Trial.Wrong wrong : Trial.Wrong.values()) {
        for (double snr : BracketBench.SNRS) {
          line(text, warm, wrong, snr, rows);
        }
      }
    }
    goals(text, rows);
    bound(text, scenes);
    perScene(text, scenes, rows);
    rivals(text, rows);
    return text.toString();
  }

  private static List<Row> pick(List<Row> rows, boolean warm, Trial.Wrong wrong, double snr) {
    return rows.stream()
        .filter(row -> row.warm() == warm && row.wrong() == wrong && row.snr() == snr)
        .toList();
  }

  private static double frames(Row row) {
    return (double) row.frames() / row.fewest();
  }

  private static double time(Row row) {
    return row.seconds() / row.least();
  }

  private static void line(
      StringBuilder text, boolean warm, Trial.Wrong wrong, double snr, List<Row> all) {
    List<Row> rows = pick(all, warm, wrong, snr);
    text.append(
        String.format(
            Locale.ROOT,
            "| %s | %.0f | %s | %.3f | +%.0f | %.3f | %.4f | %.4f | %.4f | %.4f | %.5f | %.2f |"
                + " %.2f |%n",
            warm ? "warm" : "cold",
            snr,
            wrong.words,
            BracketBench.mean(rows, BracketReport::frames),
            BracketBench.most(rows, row -> row.frames() - row.fewest()),
            BracketBench.mean(rows, BracketReport::time),
            BracketBench.most(rows, row -> row.quality().below()),
            BracketBench.mean(rows, row -> row.quality().below()),
            BracketBench.mean(rows, row -> row.quality().belowBest()),
            BracketBench.mean(rows, row -> row.quality().belowMerged()),
            BracketBench.most(rows, row -> row.quality().clippedInAll()),
            BracketBench.mean(rows, row -> row.quality().overshoot()),
            BracketBench.mean(rows, Row::wasted)));
  }

  private static void goals(StringBuilder text, List<Row> rows) {
    text.append("\n## Goals\n\n| goal | measured | met |\n| --- | --- | --- |\n");
    double[] most = {1.15, 1.20, 1.15};
    for (boolean warm : List.of(false, true)) {
      for (int i = 0; i < 3; i++) {
        double snr = BracketBench.SNRS.get(i);
        List<Row> part = pick(rows, warm, Trial.Wrong.NOTHING, snr);
        String name = (warm ? "warm" : "cold") + String.format(Locale.ROOT, ", SNR %.0f", snr);
        goal(
            text,
            "frames, " + name,
            BracketBench.mean(part, BracketReport::frames),
            warm ? 1.03 : most[i]);
        goal(
            text,
            "time, " + name,
            BracketBench.mean(part, BracketReport::time),
            warm ? 1.08 : 1.25);
      }
    }
    for (int i = 0; i < 3; i++) {
      double snr = BracketBench.SNRS.get(i);
      List<Row> part =
          pick(rows, false, Trial.Wrong.NOTHING, snr).stream()
              .filter(row -> !org.scenespan.rehearsal.Scene.names().contains(row.scene()))
              .toList();
      if (!part.isEmpty()) {
        goal(
            text,
            String.format(Locale.ROOT, "frames, cold, SNR %.0f, real scenes only", snr),
            BracketBench.mean(part, BracketReport::frames),
            most[i]);
      }
    }
    List<Row> exact = rows.stream().filter(r -> r.wrong() == Trial.Wrong.NOTHING).toList();
    goal(
        text,
        "most frames over the fewest",
        BracketBench.most(exact, row -> row.frames() - row.fewest()),
        1);
    goal(
        text,
        "share below, worst bracket",
        BracketBench.most(exact, row -> row.quality().below()),
        BracketGoal.USUAL.shadowTolerance().value());
    double faster =
        BracketBench.median(
            exact.stream()
                .filter(row -> !row.warm())
                .mapToDouble(row -> row.bestFixedSeconds() / row.seconds())
                .toArray());
    text.append(
        String.format(
            Locale.ROOT,
            "| times faster than the best fixed bracket that covers, median ≥ 2 | %.2f | %s |%n",
            faster,
            faster >= 2 ? "yes" : "no"));
  }

  private static void goal(StringBuilder text, String name, double measured, double limit) {
    text.append(
        String.format(
            Locale.ROOT,
            "| %s ≤ %s | %.4f | %s |%n",
            name,
            limit,
            measured,
            measured <= limit + 1e-9 ? "yes" : "no"));
  }

  /**
   * What the best first frame of all, at one offset chosen in hindsight for these very scenes,
   * would come to with perfect knowledge after it: no rule that knows only the meter does better.
   */
  private static void bound(StringBuilder text, List<TrueScene> scenes) {
    text.append(
        """

        ## The bound for a rule that knows only the meter

        The first frame's offset is all that such a rule can choose. With the one offset that is
        best for these very scenes in hindsight, and all known after it, frames over the fewest
        would be, on average:

        | SNR | clip point over the meter, stops | frames / fewest |
        | --- | --- | --- |
        """);
    for (double snr : BracketBench.SNRS) {
      double reach = NoiseModel.TYPICAL.width(snr, Iso.EV_BASE).value();
      double least = Double.POSITIVE_INFINITY;
      double at = 0;
      for (double offset = 0; offset < 18; offset += 0.05) {
        double ratio = inHindsight(offset, reach, scenes);
        if (ratio < least) {
          least = ratio;
          at = offset;
        }
      }
      text.append(String.format(Locale.ROOT, "| %.0f | %.1f | %.3f |%n", snr, at, least));
    }
  }

  private static double inHindsight(double offset, double reach, List<TrueScene> scenes) {
    double sum = 0;
    for (TrueScene scene : scenes) {
      double high = scene.high(BracketGoal.USUAL.clipTolerance().value());
      double low = -scene.low(BracketGoal.USUAL.shadowTolerance().value());
      double above = Math.max(0, Math.ceil((high - offset) / reach));
      double below = Math.max(0, Math.ceil((offset - reach + low) / reach));
      double fewest = Math.ceil((high + low) / reach);
      sum += (1 + above + below) / fewest;
    }
    return sum / scenes.size();
  }

  private static void perScene(StringBuilder text, List<TrueScene> scenes, List<Row> rows) {
    text.append("\n## By scene, cold\n\nFrames over the fewest / time over the least.\n\n");
    text.append("| scene | highlights over the log average | shadows under it |");
    BracketBench.SNRS.forEach(snr -> text.append(String.format(Locale.ROOT, " SNR %.0f |", snr)));
    text.append("\n| --- | --- | --- | --- | --- | --- |\n");
    for (TrueScene scene : scenes) {
      String name = scene.name().replace("_1k", "").replace(".hdr", "");
      BracketGoal goal = BracketGoal.USUAL;
      text.append(
          String.format(
              Locale.ROOT,
              "| %s | %.1f | %.1f |",
              name,
              scene.high(goal.clipTolerance().value()),
              -scene.low(goal.shadowTolerance().value())));
      for (double snr : BracketBench.SNRS) {
        List<Row> part =
            pick(rows, false, Trial.Wrong.NOTHING, snr).stream()
                .filter(row -> row.scene().equals(name))
                .toList();
        text.append(
            String.format(
                Locale.ROOT,
                " %.2f / %.2f |",
                BracketBench.mean(part, BracketReport::frames),
                BracketBench.mean(part, BracketReport::time)));
      }
      text.append("\n");
    }
  }

  private static void rivals(StringBuilder text, List<Row> rows) {
    List<Row> cold = rows.stream().filter(row -> !row.rivals().seconds().isEmpty()).toList();
    text.append(
        """

        ## Other ways, same scenes

        | way | covers | time / least, median where it covers |
        | --- | --- | --- |
        """);
    text.append(
        String.format(
            Locale.ROOT,
            "| this plan, cold | all | %.2f |%n",
            BracketBench.median(cold.stream().mapToDouble(BracketReport::time).toArray())));
    for (int i = 0; i < BracketBench.Rivals.NAMES.size(); i++) {
      int way = i;
      List<Row> covered = cold.stream().filter(row -> row.rivals().covers().get(way)).toList();
      text.append(
          String.format(
              Locale.ROOT,
              "| %s | %.0f %% | %s |%n",
              BracketBench.Rivals.NAMES.get(way),
              100.0 * covered.size() / cold.size(),
              covered.isEmpty()
                  ? "–"
                  : String.format(
                      Locale.ROOT,
                      "%.2f",
                      BracketBench.median(
                          covered.stream()
                              .mapToDouble(row -> row.rivals().seconds().get(way))
                              .toArray()))));
    }
  }
}
