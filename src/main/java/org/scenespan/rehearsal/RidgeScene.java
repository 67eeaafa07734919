package org.scenespan.rehearsal;

import static org.scenespan.rehearsal.Canvas.mixed;
import static org.scenespan.rehearsal.Canvas.scaled;
import static org.scenespan.rehearsal.Canvas.sum;
import static org.scenespan.rehearsal.Turbulence.mix;
import static org.scenespan.rehearsal.Turbulence.step;

import org.scenespan.frame.Radiance;

/**
 * Ridges in haze before a low sun, a lake that mirrors them, and a dark bank with conifers: more
 * than fifteen stops, drawn from a fixed seed. Lengths are in parts of the picture's height.
 */
final class RidgeScene {
  private static final int WIDTH = 960;
  private static final int HEIGHT = 640;
  private static final double SUN_X = 0.965;
  private static final double SUN_Y = 0.372;
  private static final double SUN_RADIUS = 0.0145;

  /** Of the disc; the sky beside it is a few stops less, the conifers' insides over fifteen. */
  private static final double SUN_LIGHT = 480;

  private static final double SHORE_Y = 0.615;
  private static final double[] SUN_COLOUR = {1.0, 0.84, 0.58};
  private static final double[] GLOW = {1.0, 0.66, 0.34};
  private static final double[] HORIZON = {1.0, 0.56, 0.33};
  private static final double[] ZENITH = {0.30, 0.48, 0.92};

  private static final double[] LAYER_Y = {0.420, 0.462, 0.512, 0.556, 0.596};
  private static final double[] LAYER_RISE = {0.150, 0.115, 0.105, 0.075, 0.030};
  private static final double[] LAYER_GRAIN = {1.9, 2.3, 2.7, 3.6, 5.0};
  private static final double[] LAYER_HAZE = {0.80, 0.62, 0.42, 0.24, 0.10};

  private final Turbulence noise = new Turbulence(20_260_101);
  private final Canvas canvas = new Canvas(WIDTH, HEIGHT);
  private final Skyline ridges = new Skyline(LAYER_Y.length, WIDTH);

  Radiance draw() {
    for (int column = 0; column < WIDTH; column++) {
      land(column);
    }
    for (int row = (int) (SHORE_Y * HEIGHT); row < HEIGHT; row++) {
      for (int column = 0; column < WIDTH; column++) {
        double[] light = lake((double) column / HEIGHT, (double) row / HEIGHT);
        canvas.set(column, row, light);
      }
    }
    new BankScenery(noise, canvas).draw();
    return canvas.radiance();
  }

  /** Sky and ridges of a column, down to the shore. */
  private void land(int column) {
    double x = (double) column / HEIGHT;
    double[] grounds = new double[LAYER_Y.length];
    for (int layer = 0; layer < LAYER_Y.length; layer++) {
      grounds[layer] = crestY(layer, x);
      ridges.set(layer, column, (grounds[layer] - trees(layer, x)) * HEIGHT);
    }
    int hidden = ridges.hiddenFrom(-1, column, (int) Math.ceil((SHORE_Y + 0.01) * HEIGHT));
    for (int row = 0; row < hidden; row++) {
      canvas.set(column, row, sky(x, (double) row / HEIGHT));
    }
    for (int layer = 0; layer < LAYER_Y.length; layer++) {
      ridge(layer, column, grounds[layer]);
    }
  }

  private static double fromSun(double x, double y) {
    return Math.sqrt((x - SUN_X) * (x - SUN_X) + (y - SUN_Y) * (y - SUN_Y));
  }

  private double[] sky(double x, double y) {
    double up = Math.max(0, 0.56 - y);
    double low = StrictMath.exp(-up / 0.17);
    double d = fromSun(x, y);
    double[] air = mixed(scaled(ZENITH, 1.9), scaled(HORIZON, 6.5), low);
    double glow =
        34 * StrictMath.exp(-d / 0.016)
            + 17 * StrictMath.exp(-d / 0.055)
            + 7.5 * StrictMath.exp(-d / 0.20);
    double[] light = sum(air, scaled(GLOW, glow));
    light = clouds(x, y, d, light);
    double disc = 1 - step(SUN_RADIUS - 0.0012, SUN_RADIUS + 0.0012, d);
    return mixed(light, scaled(SUN_COLOUR, SUN_LIGHT), disc);
  }

  /** Long thin clouds: their edges glow towards the sun, their bodies are in shade. */
  private double[] clouds(double x, double y, double d, double[] behind) {
    // Perspective: the higher, the nearer and the larger.
    double depth = 0.16 / (0.66 - Math.min(0.64, y));
    double warp = noise.sum(2.2 * x * depth + 4, 9 * y, 3);
    double px = (x - 0.75) * 5.5 * depth + 0.9 * warp;
    double py = 13 * StrictMath.log(0.70 - y) + 1.1 * warp + 0.35 * x;
    double body = noise.sum(px, py, 6);
    double cover = step(0.02, 0.55, body + 0.10 * noise.smooth(1.3 * x + 3, 2.1 * y) - 0.02);
    cover *= step(0.55, 0.40, y);
    double thick = cover * cover;
    double near = StrictMath.exp(-d / 0.34);
    double[] lit = sum(scaled(HORIZON, 3.4 + 17 * near), scaled(GLOW, 26 * near * near));
    double[] shade = {0.95 + 3.2 * near, 0.86 + 1.9 * near, 1.10 + 1.1 * near};
    return mixed(behind, mixed(lit, shade, 0.80 * thick), 0.88 * cover);
  }

  private double crestY(int layer, double x) {
    double grain = LAYER_GRAIN[layer];
    double crest = noise.crests(grain * x + 31 * layer, 7.7 * layer, 6) - 0.45;
    double swell = noise.smooth(0.9 * x + 13 * layer, 3.3 * layer);
    double saddle = StrictMath.exp(-(x - SUN_X) * (x - SUN_X) / 0.05);
    double y = LAYER_Y[layer] - LAYER_RISE[layer] * (crest + 0.45 * swell);
    return y + (layer == 0 ? 0.018 : 0.03) * saddle;
  }

  /** The two nearest ridges are wooded: spikes of many heights. */
  private double trees(int layer, double x) {
    double height = layer == 4 ? 0.020 : layer == 3 ? 0.008 : 0;
    double tallest = 0;
    double wide = height * 0.42;
    for (int cell = -1; height > 0 && cell <= 1; cell++) {
      long at = (long) Math.floor(x / wide) + cell;
      double middle = (at + 0.15 + 0.7 * noise.at(at, layer)) * wide;
      double size = height * (0.35 + 0.65 * noise.at(at, layer + 50));
      tallest = Math.max(tallest, size * (1 - Math.abs(x - middle) / (0.62 * wide)));
    }
    return tallest;
  }

  private void ridge(int layer, int column, double ground) {
    double x = (double) column / HEIGHT;
    int hidden = ridges.hiddenFrom(layer, column, (int) Math.ceil(SHORE_Y * HEIGHT));
    for (int row = ridges.from(layer, column); row < hidden; row++) {
      double y = (double) row / HEIGHT;
      double[] slope = slope(layer, x, y, y - ground);
      canvas.cover(column, row, slope, ridges.share(layer, column, row));
    }
  }

  private double[] slope(int layer, double x, double y, double below) {
    double grain = 9 + 5 * layer;
    double relief = noise.crests(grain * x + 3, grain * 0.8 * y - 0.9 * grain * x, 5);
    double fine = noise.sum(70 * x, 70 * y, 3);
    double face = 0.16 + 0.34 * relief + 0.14 * fine;
    double[] rock =
        scaled(new double[] {0.42, 0.44, 0.50}, Math.max(0.05, face) * (layer < 3 ? 1 : 0.5));
    double d = fromSun(x, y);
    double near = StrictMath.exp(-d / 0.26);
    double[] air = sum(new double[] {1.15, 1.02, 1.22}, scaled(GLOW, 11 * near));
    // Mist lies in the valleys.
    double mist = LAYER_HAZE[layer] + (0.93 - LAYER_HAZE[layer]) * step(0.0, 0.13, below) * 0.75;
    double drift = 0.10 * noise.sum(4 * x + layer, 22 * y, 4) * step(0.01, 0.08, below);
    return mixed(rock, air, Math.min(0.97, Math.max(0, mist + drift)));
  }

  private double[] lake(double x, double y) {
    double depth = Math.max(0, y - SHORE_Y) / (1 - SHORE_Y);
    double far = 1 / (0.03 + depth);
    double wave =
        noise.sum(1.6 * x * far, 14 * far, 4) + 0.7 * noise.sum(6 * x * far + 8, 55 * far, 3);
    double lift = wave * (0.004 + 0.055 * depth);
    double mirrored = SHORE_Y - (y - SHORE_Y) * 1.02 + lift;
    double side = 0.006 * depth * noise.smooth(5 * x * far, 20 * far + 3);
    double[] seen =
        canvas.sample((x + side) * HEIGHT, Math.min(SHORE_Y - 0.004, mirrored) * HEIGHT);
    // Water mirrors less the more steeply one looks down on it (Fresnel's law, roughly).
    double mirror = mix(0.62, 0.16, Math.sqrt(depth));
    double[] light = sum(scaled(seen, mirror), scaled(new double[] {0.020, 0.035, 0.045}, 1));
    double spread = 0.012 + 0.10 * depth;
    double path = StrictMath.exp(-(x - SUN_X) * (x - SUN_X) / (spread * spread));
    double facets = noise.sum(26 * x * (0.4 + 0.2 * far), 46 * far, 3);
    double glint = path * step(0.22, 0.62, facets) * 55 + path * 1.4;
    double shoreLine = step(0.0, 0.02, depth);
    return scaled(sum(light, scaled(SUN_COLOUR, glint * shoreLine)), mix(0.4, 1, shoreLine));
  }
}
