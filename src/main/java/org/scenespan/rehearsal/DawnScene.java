package org.scenespan.rehearsal;

import org.scenespan.frame.Radiance;

/**
 * What a lapse looks at: a sky that is brighter towards the horizon, a ridge and the land before
 * it, four stops in all. Small, so that thousands of frames take seconds.
 */
final class DawnScene {
  static final int WIDTH = 48;
  static final int HEIGHT = 32;

  private static final double[] ZENITH = {0.55, 0.75, 1.1};
  private static final double[] HORIZON = {1.6, 1.3, 1.0};
  private static final double[] LAND = {0.16, 0.2, 0.15};

  private DawnScene() {}

  static Radiance draw() {
    Canvas canvas = new Canvas(WIDTH, HEIGHT);
    for (int y = 0; y < HEIGHT; y++) {
      for (int x = 0; x < WIDTH; x++) {
        double ridge = HEIGHT * (0.55 + 0.08 * Math.sin(0.35 * x) + 0.05 * Math.sin(0.9 * x + 1));
        if (y < ridge) {
          canvas.set(x, y, Canvas.mixed(ZENITH, HORIZON, y / ridge));
        } else {
          double texture = 0.8 + 0.2 * ((5 * x + 3 * y) % 7);
          canvas.set(x, y, Canvas.scaled(LAND, texture));
        }
      }
    }
    return canvas.radiance();
  }
}
