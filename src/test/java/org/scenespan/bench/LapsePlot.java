package org.scenespan.bench;

import java.util.List;
import java.util.Locale;

/** Tracking error by light and interval in bulb: the ramp without and with the sky, and a rival. */
final class LapsePlot {
  private static final int LEFT = 190;
  private static final int ROW = 20;
  private static final double PER_DOUBLING = 78;

  /** Where the axis begins, stops. */
  private static final double LEAST = 0.01;

  private LapsePlot() {}

  static String of(LapseBench bench) {
    int rows = bench.lights.size() * LapseBench.INTERVALS.length;
    int tall = 76 + rows * ROW + bench.lights.size() * 8 + 20;
    StringBuilder svg = new StringBuilder();
    add(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 760 %d\" width=\"760\""
            + " font-family=\"sans-serif\" font-size=\"13\">\n"
            + "<title>Tracking error in bulb, RMS</title>\n"
            + "<rect width=\"760\" height=\"%d\" fill=\"#fff\"/>\n",
        tall,
        tall);
    add(
        svg,
        "<text x=\"10\" y=\"22\">Tracking error in bulb, RMS in stops: ● ramp, ○ ramp with the sky"
            + " known, ◆ first-order smoothing</text>\n");
    for (double stops : List.of(0.01, 0.03, 0.1, 0.3, 1.0)) {
      add(
          svg,
          "<path d=\"M%.1f 58V%d\" stroke=\"%s\"/><text x=\"%.1f\" y=\"50\""
              + " text-anchor=\"middle\">%s</text>\n",
          x(stops),
          tall - 16,
          stops == 0.03 ? "#111" : "#ccc",
          x(stops),
          stops == 0.03 ? "0.03 (goal)" : stops == 1 ? "1" : String.valueOf(stops));
    }
    double y = 76;
    for (LapseLight light : bench.lights) {
      for (int interval : LapseBench.INTERVALS) {
        add(svg, "<text x=\"10\" y=\"%.1f\">%s, %d s</text>\n", y + 4, light.name(), interval);
        double rival =
            bench.cell(light.name(), interval, LapseTrial.Rival.SMOOTHED.words, true).rms();
        add(svg, "<path d=\"M%.1f %.1fl5 5 -5 5 -5 -5z\" fill=\"#b40\"/>\n", x(rival), y - 5);
        dot(svg, x(bench.cell(light.name(), interval, "ramp", true).rms()), y, "#111");
        dot(svg, x(bench.cell(light.name(), interval, "ramp, sky known", true).rms()), y, "#fff");
        y += ROW;
      }
      y += 8;
    }
    return svg.append("</svg>\n").toString();
  }

  private static double x(double stops) {
    return LEFT + PER_DOUBLING * Math.log(Math.max(LEAST, stops) / LEAST) / Math.log(2);
  }

  private static void dot(StringBuilder svg, double x, double y, String fill) {
    add(
        svg,
        "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"4.5\" fill=\"%s\" fill-opacity=\"0.9\""
            + " stroke=\"#111\"/>\n",
        x,
        y,
        fill);
  }

  private static void add(StringBuilder svg, String format, Object... values) {
    svg.append(String.format(Locale.ROOT, format, values));
  }
}
