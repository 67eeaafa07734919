package org.scenespan.bench;

import java.util.List;
import java.util.Locale;
import org.scenespan.bench.BracketBench.Row;
import org.scenespan.plan.ColdStart;

/** What a cold start came to beside the least that it could come to. */
final class BoundReport {
  private BoundReport() {}

  static void add(StringBuilder text, List<TrueScene> scenes, List<Row> rows) {
    List<ColdBound> bounds =
        BracketBench.SNRS.stream().map(snr -> ColdBound.of(scenes, snr)).toList();
    text.append(
        """

        ## The least that a cold start can come to

        A cold start knows only the meter, so it chooses one thing: by how many stops its first
        frame's clip point stands over the reading. Here every exposure of the camera's grid is
        tried as the first frame of every scene in every light, and what follows it is the exact
        best cover of what is left, by somebody who knows every pixel and may leave a tenth of a
        stop at each end, as the plan may. *One offset in hindsight* is the best single offset for
        just these scenes: no rule that knows only the meter comes below it on them. *Place unknown*
        is the bound for a rule that is told each scene's span and light but not where in it the
        reading stands, all places being as likely: no rule without a prior on that, drawing lots
        included, does better on every placing. *Left out* is the offset that the plan would choose
        if the scene in hand were not among those of its prior, followed by the best cover.

        | scenes | SNR | measured: frames | best after the plan's offset | left out | one offset in hindsight | place unknown | measured: time | best after the plan's offset | one offset in hindsight |
        | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
        """);
    if (scenes.stream().anyMatch(scene -> !BracketReport.isDrawn(scene.name()))) {
      for (int i = 0; i < bounds.size(); i++) {
        ColdBound shared = bounds.get(i).only(scene -> !BracketReport.isDrawn(scene.name()));
        line(
            text,
            "shared",
            BracketBench.SNRS.get(i),
            shared,
            real(rows),
            leftOut(scenes, i, bounds));
      }
    }
    for (int i = 0; i < bounds.size(); i++) {
      line(text, "all", BracketBench.SNRS.get(i), bounds.get(i), rows, "");
    }
    prior(text);
  }

  private static List<Row> real(List<Row> rows) {
    return rows.stream().filter(row -> !BracketReport.isDrawn(row.scene())).toList();
  }

  private static void line(
      StringBuilder text, String scenes, double snr, ColdBound bound, List<Row> rows, String left) {
    List<Row> cold = BracketReport.pick(rows, false, Trial.Wrong.NOTHING, snr);
    double offset = new ColdStart(snr, -1).offset();
    ColdBound.Best frames = bound.fewestFrames();
    ColdBound.Best time = bound.leastTime();
    text.append(
        String.format(
            Locale.ROOT,
            "| %s | %.0f | %.3f | %.3f | %s | %.3f at %.1f | %.3f | %.3f | %.3f | %.3f at %.1f |%n",
            scenes,
            snr,
            BracketBench.mean(cold, BracketReport::frames),
            bound.frames(offset),
            left,
            frames.ratio(),
            frames.offset(),
            bound.placeUnknown(),
            BracketBench.mean(cold, BracketReport::time),
            bound.seconds(offset),
            time.ratio(),
            time.offset()));
  }

  /** The scenes of the prior are the shared ones, in the order of their names. */
  private static String leftOut(List<TrueScene> scenes, int snr, List<ColdBound> bounds) {
    List<TrueScene> real =
        scenes.stream().filter(scene -> !BracketReport.isDrawn(scene.name())).toList();
    if (real.size() != ColdStart.MEASURED) {
      return "";
    }
    double sum = 0;
    for (int i = 0; i < real.size(); i++) {
      TrueScene out = real.get(i);
      double offset = new ColdStart(BracketBench.SNRS.get(snr), i).offset();
      sum += bounds.get(snr).only(scene -> scene == out).frames(offset);
    }
    return String.format(Locale.ROOT, "%.3f", sum / real.size());
  }

  private static void prior(StringBuilder text) {
    text.append(
        """

        Under the prior itself, scenes without empty stretches, frames over the fewest as expected:

        | SNR | the plan's offset | its ratio | least of any offset, no overlap lost |
        | --- | --- | --- | --- |
        """);
    for (double snr : BracketBench.SNRS) {
      ColdStart start = new ColdStart(snr, -1);
      text.append(
          String.format(
              Locale.ROOT,
              "| %.0f | %.2f | %.3f | %.3f |%n",
              snr,
              start.offset(),
              start.expected(),
              start.leastExpected()));
    }
  }
}
