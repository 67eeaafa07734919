package org.scenespan.rehearsal;

import static org.scenespan.rehearsal.Turbulence.step;

/** The near bank of the ridge scene: grass against the light, and conifers. */
final class BankScenery {
  private final Turbulence noise;
  private final Canvas canvas;

  BankScenery(Turbulence noise, Canvas canvas) {
    this.noise = noise;
    this.canvas = canvas;
  }

  void draw() {
    tree(0.075, 0.93, 0.74);
    tree(0.255, 0.90, 0.47);
    tree(0.175, 0.94, 0.60);
    tree(1.425, 0.93, 0.66);
    tree(1.335, 0.91, 0.36);
    tree(1.500, 0.95, 0.50);
    grass();
  }

  private double edgeY(double x) {
    double hollow = (x - 0.86) / 0.75;
    return 0.905 - 0.115 * hollow * hollow + 0.018 * noise.sum(2.5 * x + 40, 1.5, 4);
  }

  private void grass() {
    int height = canvas.height;
    for (int column = 0; column < canvas.width; column++) {
      double x = (double) column / height;
      double edge = edgeY(x);
      double blade = 0.5 * noise.at(column, 1) + 0.5 * noise.at(column / 2, 2);
      double tuft = 0.5 + 0.5 * noise.sum(18 * x, 4.4, 3);
      double top = edge - 0.034 * blade * blade * Math.max(0.1, tuft) - 0.004;
      for (int row = (int) (top * height) - 1; row < height; row++) {
        double y = (double) row / height;
        double share = Math.min(1, Math.max(0, row - top * height + 0.5));
        canvas.cover(column, row, blades(x, y, y - top), share);
      }
    }
  }

  /** Grass lets the low sun through at its tips; further down it is nearly night. */
  private double[] blades(double x, double y, double below) {
    double sway = 0.012 * noise.smooth(7 * x, 9 * y);
    double blades = noise.sum(88 * (x + sway), 13 * y, 4);
    double clumps = noise.sum(5 * x, 9 * y, 4);
    double side = x - 0.965;
    double through = StrictMath.exp(-side * side / 0.16);
    double lit = StrictMath.exp(-Math.max(0, below) / 0.012) * (0.10 + 0.55 * through);
    double body = 0.075 + 0.065 * blades + 0.05 * clumps;
    body *= 0.40 + 0.60 * step(0.20, 0.0, below);
    body = Math.max(0.014, body) + 0.06 * step(0.25, 0.75, blades) * through * step(0.13, 0, below);
    return new double[] {
      0.80 * body + 1.00 * lit, 0.92 * body + 0.74 * lit, 0.58 * body + 0.22 * lit
    };
  }

  /**
   * A conifer.
   *
   * @param middle of its trunk
   * @param foot where it stands
   * @param size its height
   */
  private void tree(double middle, double foot, double size) {
    int height = canvas.height;
    long kind = Math.round(middle * 1000);
    double whorl = 0.030 * size + 0.006;
    for (int row = Math.max(0, (int) ((foot - size) * height)); row < foot * height; row++) {
      double t = ((double) row / height - (foot - size)) / size;
      double trunk = middle + 0.012 * size * noise.smooth(3 * t, kind);
      int reach = (int) (0.24 * size * height) + 3;
      for (int offset = -reach; offset <= reach; offset++) {
        int column = (int) (trunk * height) + offset;
        if (column >= 0 && column < canvas.width) {
          double dx = ((double) column / height - trunk) / size;
          double share = Math.max(needles(dx, t, kind, whorl / size), stem(dx, t));
          if (share > 0) {
            double leaf = 0.0085 + 0.020 * Math.max(0, noise.sum(0.09 * column, 0.16 * row, 3));
            double[] dark = {0.85 * leaf, 1.0 * leaf, 0.80 * leaf};
            canvas.cover(column, row, dark, share);
          }
        }
      }
    }
  }

  private static double stem(double dx, double t) {
    return 1 - step(0.5, 1.2, Math.abs(dx) / (0.0035 + 0.011 * t));
  }

  /** Branches in whorls that hang outwards, longer further down, ragged. */
  private double needles(double dx, double t, long kind, double whorl) {
    if (t > 0.93) {
      return 0;
    }
    double out = Math.abs(dx);
    double hang = t - 0.55 * out - 0.02 * noise.smooth(24 * dx + kind, 9 * t);
    long tier = (long) Math.floor(hang / whorl);
    double within = hang / whorl - tier;
    long side = dx < 0 ? 2 * tier : 2 * tier + 1;
    double length =
        (0.004 + 0.215 * StrictMath.pow(t, 0.85)) * (0.55 + 0.45 * noise.at(side, kind));
    double shape = length * (0.40 + 0.60 * within);
    double ragged = 0.30 * length * noise.sum(60 * dx + kind, 75 * t, 3);
    double solid = 1 - step(-0.006, 0.006, out - shape - ragged);
    double gaps =
        step(-0.62, -0.20, noise.sum(42 * dx + 5, 60 * t + kind, 3) + 0.4 * (1 - out / length));
    return solid * gaps;
  }
}
