package org.scenespan.bench;

import java.util.List;
import java.util.Locale;
import org.scenespan.bench.BracketBench.Row;

/**
 * Time over the least possible, a row a scene: the plan cold and warm, and the best fixed bracket.
 */
final class BracketPlot {
  private static final int LEFT = 210;
  private static final int ROW = 26;
  private static final double PER_DOUBLING = 150;

  private BracketPlot() {}

  static String of(List<Row> rows) {
    List<Row> exact = rows.stream().filter(r -> r.wrong() == Trial.Wrong.NOTHING).toList();
    List<String> names = BracketBench.names(exact);
    int tall = 70 + names.size() * ROW + 20;
    StringBuilder svg = new StringBuilder();
    svg.append(
        String.format(
            Locale.ROOT,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 760 %d\" width=\"760\""
                + " font-family=\"sans-serif\" font-size=\"13\">%n"
                + "<title>Time over the least possible, median, by scene</title>%n"
                + "<rect width=\"760\" height=\"%d\" fill=\"#fff\"/>%n",
            tall,
            tall));
    svg.append(
        "<text x=\"10\" y=\"22\">Time over the least possible (median):"
            + " ● cold, ○ warm, ◆ best fixed bracket that covers</text>\n");
    for (int times : List.of(1, 2, 4, 8)) {
      double x = x(times);
      svg.append(
          String.format(
              Locale.ROOT,
              "<path d=\"M%.1f 56V%d\" stroke=\"#ccc\"/><text x=\"%.1f\" y=\"48\""
                  + " text-anchor=\"middle\">%d</text>%n",
              x,
              tall - 16,
              x,
              times));
    }
    for (int i = 0; i < names.size(); i++) {
      String name = names.get(i);
      double y = 76 + i * ROW;
      List<Row> own = exact.stream().filter(row -> row.scene().equals(name)).toList();
      svg.append(String.format(Locale.ROOT, "<text x=\"10\" y=\"%.1f\">%s</text>%n", y + 4, name));
      double cold = median(own, false);
      double warm = median(own, true);
      svg.append(dot(x(cold), y, "#111", "#111"));
      svg.append(dot(x(warm), y, "#fff", "#111"));
      double fixed =
          BracketBench.median(
              own.stream().mapToDouble(r -> r.bestFixedSeconds() / r.least()).toArray());
      if (!Double.isNaN(fixed)) {
        svg.append(
            String.format(
                Locale.ROOT,
                "<path d=\"M%.1f %.1fl6 6 -6 6 -6 -6z\" fill=\"#b40\"/>%n",
                x(fixed),
                y - 6));
      }
    }
    return svg.append("</svg>\n").toString();
  }

  private static double median(List<Row> rows, boolean warm) {
    return BracketBench.median(
        rows.stream()
            .filter(row -> row.warm() == warm)
            .mapToDouble(row -> row.seconds() / row.least())
            .toArray());
  }

  private static double x(double times) {
    return LEFT + 10 + PER_DOUBLING * Math.log(Math.max(0.9, Math.min(times, 10))) / Math.log(2);
  }

  private static String dot(double x, double y, String fill, String stroke) {
    return String.format(
        Locale.ROOT,
        "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"5\" fill=\"%s\" stroke=\"%s\"/>%n",
        x,
        y,
        fill,
        stroke);
  }
}
