package org.scenespan.proof;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;

/**
 * A lapse's brightness over time as SVG: above, the exposure on an EV axis; below, how far each
 * frame was off what was meant, before and after evening.
 */
final class BrightnessPlot {
  private static final int WIDTH = 960;
  private static final int HEIGHT = 540;
  private static final int LEFT = 70;
  private static final int RIGHT = 20;
  private static final int TOP = 40;
  private static final int MIDDLE = 290;
  private static final int BOTTOM = 490;

  /** Stops either way that the lower plot shows at least. */
  private static final double LEAST_OFF = 0.25;

  private BrightnessPlot() {}

  /**
   * A frame of the plot.
   *
   * @param seconds since the first
   * @param ev of its exposure
   * @param error how much brighter it is than was meant; absent where it was not read
   * @param evened the same with its evening gain
   */
  record Point(double seconds, Ev ev, Optional<Stops> error, Optional<Stops> evened) {}

  static String of(List<Point> points) {
    double last = Math.max(1, points.get(points.size() - 1).seconds());
    double low = points.stream().mapToDouble(it -> it.ev().value()).min().orElse(0);
    double high = points.stream().mapToDouble(it -> it.ev().value()).max().orElse(0);
    low = Math.floor(low - 0.5);
    high = Math.ceil(high + 0.5);
    double most = LEAST_OFF;
    for (Point point : points) {
      most = Math.max(most, point.error().map(it -> Math.abs(it.value())).orElse(0.0));
    }
    StringBuilder svg = new StringBuilder();
    add(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" font-family=\"sans-serif\""
            + " font-size=\"13\" role=\"img\">%n",
        WIDTH,
        HEIGHT);
    add(svg, "<title>Exposure and brightness of the lapse over time</title>%n");
    add(svg, "<rect width=\"%d\" height=\"%d\" fill=\"#ffffff\"/>%n", WIDTH, HEIGHT);
    axis(svg, "Exposure, EV at ISO 100", low, high, TOP, MIDDLE - 50, step(high - low));
    axis(svg, "Off what was meant, stops", -most, most, MIDDLE, BOTTOM, most / 2);
    time(svg, last);
    StringBuilder exposure = new StringBuilder();
    StringBuilder before = new StringBuilder();
    StringBuilder after = new StringBuilder();
    for (Point point : points) {
      double x = LEFT + (WIDTH - LEFT - RIGHT) * point.seconds() / last;
      append(exposure, x, y(point.ev().value(), low, high, TOP, MIDDLE - 50));
      if (point.error().isPresent()) {
        append(before, x, y(point.error().get().value(), -most, most, MIDDLE, BOTTOM));
      }
      if (point.evened().isPresent()) {
        append(after, x, y(point.evened().get().value(), -most, most, MIDDLE, BOTTOM));
      }
    }
    line(svg, exposure, "#1f5f66", "1.6", "");
    line(svg, before, "#b0562c", "1", " stroke-dasharray=\"2 2\"");
    line(svg, after, "#000000", "1.6", "");
    add(
        svg,
        "<text x=\"%d\" y=\"%d\" fill=\"#333333\">dotted: as taken; solid: evened</text>%n",
        LEFT + 10,
        MIDDLE + 14);
    svg.append("</svg>\n");
    return svg.toString();
  }

  private static double step(double span) {
    return span > 12 ? 4 : span > 6 ? 2 : 1;
  }

  private static void axis(
      StringBuilder svg, String name, double low, double high, int top, int bottom, double step) {
    add(svg, "<text x=\"%d\" y=\"%d\" fill=\"#333333\">%s</text>%n", LEFT, top - 10, name);
    for (double value = Math.ceil(low / step) * step; value <= high + 1e-9; value += step) {
      double y = y(value, low, high, top, bottom);
      add(
          svg,
          "<path d=\"M%d %.1fH%d\" stroke=\"#cccccc\"/><text x=\"%d\" y=\"%.1f\""
              + " text-anchor=\"end\" fill=\"#333333\">%s</text>%n",
          LEFT,
          y,
          WIDTH - RIGHT,
          LEFT - 8,
          y + 4,
          number(value, step));
    }
  }

  private static String number(double value, double step) {
    String format = step >= 1 ? "%.0f" : step >= 0.1 ? "%.2f" : "%.3f";
    return String.format(Locale.ROOT, format, value == 0 ? 0.0 : value);
  }

  private static void time(StringBuilder svg, double last) {
    double[] steps = {1, 5, 10, 30, 60, 300, 600, 1800, 3600, 7200};
    double step = steps[steps.length - 1];
    for (double one : steps) {
      if (last / one <= 12) {
        step = one;
        break;
      }
    }
    for (double at = 0; at <= last; at += step) {
      double x = LEFT + (WIDTH - LEFT - RIGHT) * at / last;
      long whole = Math.round(at);
      add(
          svg,
          "<text x=\"%.1f\" y=\"%d\" text-anchor=\"middle\" fill=\"#333333\">%d:%02d:%02d</text>%n",
          x,
          BOTTOM + 20,
          whole / 3600,
          whole / 60 % 60,
          whole % 60);
    }
    add(
        svg,
        "<text x=\"%d\" y=\"%d\" text-anchor=\"end\" fill=\"#333333\">since the first"
            + " frame</text>%n",
        WIDTH - RIGHT,
        BOTTOM + 38);
  }

  private static double y(double value, double low, double high, int top, int bottom) {
    return bottom - (bottom - top) * (value - low) / (high - low);
  }

  private static void append(StringBuilder path, double x, double y) {
    path.append(String.format(Locale.ROOT, "%s%.1f %.1f", path.length() == 0 ? "M" : "L", x, y));
  }

  private static void line(
      StringBuilder svg, StringBuilder path, String colour, String width, String more) {
    add(
        svg,
        "<path d=\"%s\" fill=\"none\" stroke=\"%s\" stroke-width=\"%s\"%s/>%n",
        path,
        colour,
        width,
        more);
  }

  private static void add(StringBuilder svg, String format, Object... values) {
    svg.append(String.format(Locale.ROOT, format.replace("%n", "\n"), values));
  }
}
