package org.scenespan.proof.report;

import static org.scenespan.proof.report.Markup.at;

import java.util.Locale;

/** A drawing of the report: a scale below, another one at the left, and lines between them. */
final class Drawing {
  static final double WIDTH = 720;
  private static final double LEFT = 52;
  private static final double RIGHT = 12;
  private static final double TOP = 10;
  private static final double BELOW = 40;

  private final Markup page;
  private final double height;
  private final Scale across;
  private final Scale up;

  private Drawing(Markup page, double height, Scale across, Scale up) {
    this.page = page;
    this.height = height;
    this.across = across;
    this.up = up;
  }

  /** Fills a drawing. */
  interface Content {
    void draw(Drawing drawing);
  }

  /** What one side of a drawing shows. */
  record Side(String name, double low, double high) {}

  /**
   * A figure with its caption.
   *
   * @param caption in words, so that the page tells it without the drawing
   */
  static void figure(
      Markup page, String caption, double height, Side across, Side up, Content content) {
    Scale x = new Scale(across.low(), across.high(), LEFT, WIDTH - RIGHT);
    Scale y = new Scale(up.low(), up.high(), height - BELOW, TOP);
    Drawing drawing = new Drawing(page, height, x, y);
    page.in(
        "figure",
        () -> {
          page.in(
              "svg",
              new String[] {
                "viewBox",
                "0 0 " + at(WIDTH) + " " + at(height),
                "role",
                "img",
                "aria-label",
                caption
              },
              () -> {
                drawing.grid(across.name(), up.name());
                content.draw(drawing);
              });
          page.text("figcaption", caption);
        });
  }

  private void grid(String acrossName, String upName) {
    for (double value = across.first(); value <= across.high() + 1e-9; value += across.step()) {
      double x = across.of(value);
      page.empty(
          "path", "class", "grid", "d", "M" + at(x) + " " + at(TOP) + "V" + at(height - BELOW));
      label(x, height - BELOW + 14, "middle", number(value, across.step()));
    }
    for (double value = up.first();
        !upName.isEmpty() && value <= up.high() + 1e-9;
        value += up.step()) {
      double y = up.of(value);
      page.empty(
          "path", "class", "grid", "d", "M" + at(LEFT) + " " + at(y) + "H" + at(WIDTH - RIGHT));
      label(LEFT - 6, y + 4, "end", number(value, up.step()));
    }
    label(WIDTH - RIGHT, height - 8, "end", acrossName);
    label(LEFT, height - 8, "start", upName);
  }

  void label(double x, double y, String anchor, String text) {
    page.text("text", text, "x", at(x), "y", at(y), "text-anchor", anchor);
  }

  /** A line through points; NaN breaks it. */
  void line(String kind, double[] xs, double[] ys) {
    StringBuilder path = new StringBuilder();
    boolean pen = false;
    for (int i = 0; i < xs.length; i++) {
      if (Double.isNaN(ys[i])) {
        pen = false;
        continue;
      }
      path.append(pen ? "L" : "M")
          .append(at(across.of(xs[i])))
          .append(' ')
          .append(at(up.of(ys[i])));
      pen = true;
    }
    page.empty("path", "class", kind, "d", path.toString());
  }

  /** A level from side to side. */
  void level(String kind, double value) {
    double y = up.of(value);
    page.empty("path", "class", kind, "d", "M" + at(LEFT) + " " + at(y) + "H" + at(WIDTH - RIGHT));
  }

  void dot(String kind, double x, double y) {
    page.empty("circle", "class", kind, "cx", at(across.of(x)), "cy", at(up.of(y)), "r", "2.4");
  }

  /** A bar from one value across to another. */
  void bar(String kind, double fromX, double toX, double y, double thick, String name) {
    double x = across.of(fromX);
    double middle = up.of(y);
    page.empty(
        "rect",
        "class",
        kind,
        "x",
        at(x),
        "y",
        at(middle - thick / 2),
        "width",
        at(Math.max(1, across.of(toX) - x)),
        "height",
        at(thick));
    label(x + 4, middle + 4, "start", name);
  }

  /** Bars that stand on the lower side, each from its value on to the next. */
  void columns(String kind, double[] xs, double[] ys) {
    StringBuilder path = new StringBuilder();
    double ground = up.of(up.low());
    for (int i = 0; i + 1 < xs.length; i++) {
      if (ys[i] > up.low()) {
        path.append("M").append(at(across.of(xs[i]))).append(' ').append(at(ground));
        path.append("V").append(at(up.of(ys[i])));
        path.append("H").append(at(across.of(xs[i + 1])));
        path.append("V").append(at(ground)).append("Z");
      }
    }
    page.empty("path", "class", kind, "d", path.toString());
  }

  private static String number(double value, double step) {
    String format = step >= 1 ? "%.0f" : step >= 0.1 ? "%.1f" : "%.2f";
    return String.format(Locale.ROOT, format, value == 0 ? 0.0 : value);
  }
}
