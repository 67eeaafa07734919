package org.scenespan.rehearsal;

import static org.scenespan.rehearsal.Canvas.mixed;
import static org.scenespan.rehearsal.Canvas.scaled;
import static org.scenespan.rehearsal.Canvas.sum;
import static org.scenespan.rehearsal.Turbulence.step;

import org.scenespan.frame.Radiance;

/**
 * A dark room with a bright window: boards that shine towards it, a table with a jug, and outside a
 * sunlit hillside. About twelve stops. Lengths are in parts of the picture's height.
 */
final class WindowScene {
  private static final int WIDTH = 960;
  private static final int HEIGHT = 640;
  private static final double LEFT = 0.62;
  private static final double RIGHT = 1.10;
  private static final double TOP = 0.13;
  private static final double SILL = 0.60;
  private static final double FLOOR = 0.74;
  private static final double BAR = 0.009;
  private static final double FRAME = 0.020;
  private static final double TABLE = 0.70;

  private final Turbulence noise = new Turbulence(20_260_103);
  private final Canvas canvas = new Canvas(WIDTH, HEIGHT);

  Radiance draw() {
    for (int row = 0; row < HEIGHT; row++) {
      for (int column = 0; column < WIDTH; column++) {
        double x = (double) column / HEIGHT;
        double y = (double) row / HEIGHT;
        canvas.set(column, row, y < FLOOR ? wall(x, y) : floor(x, y));
        double window = box(x, y, LEFT, RIGHT, TOP, SILL);
        if (window > 0) {
          double[] seen = mixed(outside(x, y), wood(x, y), bars(x, y));
          canvas.cover(column, row, seen, window);
        }
        furniture(column, row, x, y);
      }
    }
    return canvas.radiance();
  }

  /** 1 inside a box, 0 outside, with an edge one pixel soft. */
  private static double box(
      double x, double y, double left, double right, double top, double bottom) {
    double inside = Math.min(Math.min(x - left, right - x), Math.min(y - top, bottom - y)) * HEIGHT;
    return Math.min(1, Math.max(0, inside + 0.5));
  }

  private static double bars(double x, double y) {
    double middle = Math.abs(x - (LEFT + RIGHT) / 2) - BAR;
    double across = Math.abs(y - (TOP + 0.38 * (SILL - TOP))) - BAR * 0.8;
    double sides = Math.min(x - LEFT, RIGHT - x) - FRAME;
    double ends = Math.min(y - TOP, SILL - y) - FRAME;
    double nearest = Math.min(Math.min(middle, across), Math.min(sides, ends)) * HEIGHT;
    return Math.min(1, Math.max(0, 0.5 - nearest));
  }

  private double[] outside(double x, double y) {
    double hill = 0.36 - 0.06 * noise.sum(2.6 * x, 0.7, 4);
    double meadow = 0.47 + 0.02 * noise.sum(3.1 * x, 5.2, 3);
    double cloud = step(-0.05, 0.5, noise.sum(3.0 * x + 2, 6 * y, 6));
    double[] sky = mixed(new double[] {26, 38, 62}, new double[] {86, 88, 92}, cloud);
    double leaves = noise.sum(60 * x, 60 * y, 4);
    double[] wood = scaled(new double[] {0.62, 0.86, 0.48}, 9 + 6 * leaves);
    double[] grass = scaled(new double[] {0.72, 0.88, 0.34}, 24 + 7 * noise.sum(30 * x, 90 * y, 4));
    double[] ground = mixed(wood, grass, step(-0.004, 0.004, y - meadow));
    return mixed(sky, ground, step(-0.003, 0.003, y - hill - 0.010 * leaves));
  }

  private double[] wood(double x, double y) {
    double grain = 0.35 + 0.10 * noise.sum(120 * x, 9 * y, 3);
    return new double[] {0.92 * grain, 0.88 * grain, 0.80 * grain};
  }

  /** Light that falls in leaves the window's own wall in the dark, brighter near the reveal. */
  private double[] wall(double x, double y) {
    double dx = Math.max(0, Math.max(LEFT - x, x - RIGHT));
    double dy = Math.max(0, Math.max(TOP - y, y - SILL));
    double away = Math.sqrt(dx * dx + dy * dy);
    double plaster = 1 + 0.10 * noise.sum(9 * x, 9 * y, 5) + 0.05 * noise.sum(120 * x, 120 * y, 2);
    double light =
        0.030 + 0.55 * StrictMath.exp(-away / 0.030) + 0.085 * StrictMath.exp(-away / 0.28);
    light *= 0.55 + 0.45 * step(1.5, 0.9, x) * step(-0.1, 0.5, x);
    double skirting = y > FLOOR - 0.035 ? 1.35 : 1;
    double line = Math.abs(y - (FLOOR - 0.035)) < 0.0015 ? 0.5 : 1;
    double v = light * plaster * skirting * line;
    return new double[] {v, 0.93 * v, 0.80 * v};
  }

  /** Boards run away from the window and mirror it, blurred. */
  private double[] floor(double x, double y) {
    double depth = (y - FLOOR) / (1 - FLOOR);
    double vanish = 0.86;
    double along = (x - vanish) / (0.55 + 0.85 * depth);
    long board = (long) Math.floor(along / 0.085);
    double place = along / 0.085 - board;
    double tone = 0.8 + 0.4 * noise.at(board, 7);
    double grain = 1 + 0.22 * noise.sum(60 * along, 3.5 / (0.25 + depth) + 9 * board, 4);
    double joint = place < 0.035 ? 0.35 : 1;
    double patch = step(0.27, 0.12, Math.abs(along)) * StrictMath.exp(-depth / 0.55);
    double bar = 1 - 0.45 * step(0.030, 0.0, Math.abs(along)) * StrictMath.exp(-depth / 0.4);
    double v = tone * grain * joint * (0.016 + 0.03 * StrictMath.exp(-depth / 0.3));
    double shine = 0.95 * patch * bar * joint * (0.6 + 0.4 * grain) * tone;
    return sum(
        new double[] {1.1 * v, 0.74 * v, 0.44 * v},
        new double[] {0.92 * shine, 0.90 * shine, 0.86 * shine});
  }

  private void furniture(int column, int row, double x, double y) {
    table(column, row, x, y);
    jug(column, row, x, y);
  }

  private void table(int column, int row, double x, double y) {
    double top = box(x, y, -1, 0.56, TABLE, TABLE + 0.035);
    double leg = box(x, y, 0.49, 0.525, TABLE + 0.03, 0.985);
    double other = box(x, y, 0.06, 0.095, TABLE + 0.03, 0.985);
    if (top == 0 && leg == 0 && other == 0) {
      return;
    }
    double dark = 0.011 + 0.006 * noise.sum(14 * x, 60 * y, 4);
    double rim = 0.5 * StrictMath.exp(-Math.abs(y - TABLE) / 0.003) * step(0.05, 0.5, x);
    double[] board =
        sum(
            new double[] {1.3 * dark, 0.95 * dark, 0.65 * dark},
            scaled(new double[] {1, 0.95, 0.88}, rim));
    canvas.cover(column, row, board, top);
    canvas.cover(column, row, board, leg);
    canvas.cover(column, row, board, other);
  }

  private void jug(int column, int row, double x, double y) {
    double up = (TABLE - y) / 0.17;
    if (!(up >= 0 && up <= 1)) {
      return;
    }
    double neck = step(0.45, 0.80, up);
    double half = 0.058 * (1 - 0.42 * neck) * (0.82 + 0.18 * step(0.0, 0.30, up));
    half += 0.008 * step(0.90, 1.0, up);
    double across = (x - 0.36) / half;
    double share = Math.min(1, Math.max(0, (1 - Math.abs(across)) * half * HEIGHT + 0.5));
    double edge =
        StrictMath.exp(-(1 - Math.min(1, Math.abs(across))) / 0.10) * step(-0.2, 1, across);
    double glaze = 0.020 + 0.05 * step(-0.6, 1, across) + 0.75 * edge;
    canvas.cover(column, row, new double[] {0.80 * glaze, 0.90 * glaze, glaze}, share);
  }
}
