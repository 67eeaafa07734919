package org.scenespan.rehearsal;

import static org.scenespan.rehearsal.Canvas.mixed;
import static org.scenespan.rehearsal.Canvas.scaled;
import static org.scenespan.rehearsal.Turbulence.step;

import org.scenespan.frame.Radiance;

/** Wooded hills in mist under an even sky: about five stops, which one frame holds. */
final class FlatScene {
  private static final int WIDTH = 960;
  private static final int HEIGHT = 640;
  private static final int HILLS = 6;
  private static final double[] MIST = {0.86, 0.93, 1.0};

  private final Turbulence noise = new Turbulence(20_260_102);
  private final Canvas canvas = new Canvas(WIDTH, HEIGHT);
  private final Skyline hills = new Skyline(HILLS, WIDTH);

  Radiance draw() {
    for (int column = 0; column < WIDTH; column++) {
      double x = (double) column / HEIGHT;
      double[] grounds = new double[HILLS];
      for (int hill = 0; hill < HILLS; hill++) {
        grounds[hill] = 0.36 + 0.105 * hill - 0.11 * noise.sum(1.2 * x + 9 * hill, 3.1 * hill, 4);
        hills.set(hill, column, (grounds[hill] - trees(hill, x)) * HEIGHT);
      }
      air(column, hills.hiddenFrom(-1, column, HEIGHT));
      for (int hill = 0; hill < HILLS; hill++) {
        hill(hill, column, grounds[hill]);
      }
    }
    return canvas.radiance();
  }

  private void air(int column, int hidden) {
    for (int row = 0; row < hidden; row++) {
      double y = (double) row / HEIGHT;
      double veil = noise.sum(1.4 * column / HEIGHT, 4 * y, 5);
      canvas.set(column, row, scaled(MIST, 1.05 - 0.25 * y + 0.10 * veil));
    }
  }

  private void hill(int hill, int column, double ground) {
    double x = (double) column / HEIGHT;
    int hidden = hills.hiddenFrom(hill, column, HEIGHT);
    for (int row = hills.from(hill, column); row < hidden; row++) {
      double y = (double) row / HEIGHT;
      double[] slope = slope(hill, x, y, y - ground);
      canvas.cover(column, row, slope, hills.share(hill, column, row));
    }
  }

  private double trees(int hill, double x) {
    double height = 0.010 + 0.011 * hill;
    double wide = height * 0.40;
    double tallest = 0;
    for (int cell = -1; cell <= 1; cell++) {
      long at = (long) Math.floor(x / wide) + cell;
      double middle = (at + 0.15 + 0.7 * noise.at(at, hill)) * wide;
      double size = height * (0.3 + 0.7 * noise.at(at, hill + 50));
      double ragged = 0.10 * noise.smooth(400 * x, hill);
      tallest = Math.max(tallest, size * (1 + ragged - Math.abs(x - middle) / (0.60 * wide)));
    }
    return tallest;
  }

  private double[] slope(int hill, double x, double y, double below) {
    double leaves = noise.sum((90 - 9 * hill) * x, (90 - 9 * hill) * y, 4);
    double stands = noise.sum(7 * x + hill, 11 * y, 4);
    double green = 0.105 + 0.050 * leaves + 0.035 * stands;
    double[] wood = scaled(new double[] {0.62, 0.80, 0.52}, Math.max(0.045, green));
    double mist = 0.86 - 0.165 * hill + 0.34 * step(0.0, 0.14, below);
    mist += 0.14 * noise.sum(2.5 * x + 5 * hill, 9 * y, 4);
    return mixed(wood, scaled(MIST, 0.80), Math.min(0.95, Math.max(0, mist)));
  }
}
