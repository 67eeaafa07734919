package org.scenespan.bench;

import java.util.List;
import java.util.Locale;
import org.scenespan.bench.BracketBench.Row;

/** Other ways to bracket, held against the plan. */
final class RivalReport {
  private static final double GOAL = 2;

  private RivalReport() {}

  static void add(StringBuilder text, List<Row> rows) {
    List<Row> cold = rows.stream().filter(row -> !row.rivals().seconds().isEmpty()).toList();
    fixed(text, cold);
    ways(text, cold);
  }

  private static void fixed(StringBuilder text, List<Row> cold) {
    text.append(
        """

        ## Against the best fixed bracket

        Of 3, 5, 7 and 9 frames at 1 and 2 stops around the meter, those that cover the scene in
        every bin that can be served; of these the one that takes the least time on this very scene,
        overhead included, which nobody could have chosen beforehand. *Times faster* is its seconds
        over those of the cold plan, the median over scenes and lights; where none of the eight
        covers, there is nothing to compare with and the case is left out. The last column is what
        somebody would choose who must decide once for all scenes: 9 frames 2 stops apart. Where
        *the optimum*, which knows every pixel, is not twice as fast either, nobody can be: a fixed
        bracket of seven frames that fits a scene of which four frames are the fewest costs 7/4 of
        it in overhead.

        | scenes | SNR | overhead, s | covered by some of the eight | times faster, median | lower quartile | goal of 2 | the optimum: times faster, median | 9 frames, 2 stops: times faster |
        | --- | --- | --- | --- | --- | --- | --- | --- | --- |
        """);
    List<Row> shared = cold.stream().filter(row -> !BracketReport.isDrawn(row.scene())).toList();
    for (List<Row> part : shared.isEmpty() ? List.of(cold) : List.of(shared, cold)) {
      String name = part == cold ? "all" : "shared";
      for (double snr : BracketBench.SNRS) {
        for (double overhead : BracketBench.OVERHEADS) {
          line(
              text,
              name,
              String.format(Locale.ROOT, "%.0f", snr),
              String.format(Locale.ROOT, "%.1f", overhead),
              part.stream().filter(r -> r.snr() == snr && r.overhead() == overhead).toList());
        }
      }
      line(text, name, "all", "both", part);
    }
  }

  private static void line(
      StringBuilder text, String scenes, String snr, String overhead, List<Row> rows) {
    double[] faster =
        rows.stream()
            .mapToDouble(row -> row.bestFixedSeconds() / row.seconds())
            .filter(times -> !Double.isNaN(times))
            .sorted()
            .toArray();
    int nineByTwo = BracketBench.Rivals.NAMES.indexOf("9 frames, 2 stops");
    double nine =
        BracketBench.median(
            rows.stream()
                .filter(row -> row.rivals().covers().get(nineByTwo))
                .mapToDouble(
                    row -> row.rivals().seconds().get(nineByTwo) * row.least() / row.seconds())
                .toArray());
    double median = BracketBench.median(faster);
    text.append(
        String.format(
            Locale.ROOT,
            "| %s | %s | %s | %.0f %% | %.2f | %.2f | %s | %.2f | %.2f |%n",
            scenes,
            snr,
            overhead,
            100.0 * faster.length / rows.size(),
            median,
            faster.length == 0 ? Double.NaN : faster[faster.length / 4],
            median >= GOAL ? "met" : "not met",
            BracketBench.median(
                rows.stream().mapToDouble(row -> row.bestFixedSeconds() / row.least()).toArray()),
            nine));
  }

  private static void ways(StringBuilder text, List<Row> cold) {
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
