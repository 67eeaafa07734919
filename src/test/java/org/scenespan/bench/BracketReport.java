package org.scenespan.bench;

import java.util.List;
import java.util.Locale;
import org.scenespan.bench.BracketBench.Row;
import org.scenespan.plan.BracketGoal;
import org.scenespan.rehearsal.Scene;

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
    BoundReport.add(text, scenes, rows);
    perScene(text, scenes, rows);
    RivalReport.add(text, rows);
    return text.toString();
  }

  static List<Row> pick(List<Row> rows, boolean warm, Trial.Wrong wrong, double snr) {
    return rows.stream()
        .filter(row -> row.warm() == warm && row.wrong() == wrong && row.snr() == snr)
        .toList();
  }

  static double frames(Row row) {
    return (double) row.frames() / row.fewest();
  }

  static double time(Row row) {
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
    text.append("\n## Goals\n\n");
    List<Row> shared = rows.stream().filter(row -> !isDrawn(row.scene())).toList();
    if (!shared.isEmpty()) {
      text.append("On the shared real scenes:\n\n| goal | measured | met |\n| --- | --- | --- |\n");
      goalsOf(text, shared);
      text.append("\nWith the drawn ones:\n\n");
    }
    text.append("| goal | measured | met |\n| --- | --- | --- |\n");
    goalsOf(text, rows);
  }

  static boolean isDrawn(String scene) {
    return Scene.names().contains(scene);
  }

  private static void goalsOf(StringBuilder text, List<Row> rows) {
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
}
