package org.scenespan.plan.ramp;

import org.scenespan.sky.ClearSky;

/**
 * How the clear light may go: one course where the place is known; else a family of them, since the
 * light of a clear sky depends on the sun's altitude alone, and over two hours the altitude is
 * nearly a straight line in time. Each member is one altitude and one rate of it.
 */
interface Courses {
  int size();

  /** Fills in the light of each course at a moment, EV. */
  void at(double seconds, double[] into);

  /** The forecast of a known place. */
  static Courses known(LightForecast forecast) {
    return new Courses() {
      @Override
      public int size() {
        return 1;
      }

      @Override
      public void at(double seconds, double[] into) {
        into[0] = forecast.at(seconds).value();
      }
    };
  }

  /** The family from a moment on. */
  static Courses unknown(double anchorSeconds) {
    return new Family(anchorSeconds);
  }

  /**
   * Altitudes and rates on a grid.
   *
   * @param anchorSeconds when the altitudes are those of the grid
   */
  record Family(double anchorSeconds) implements Courses {
    /** Degrees a minute: the equator's sun rises by 0.25, that of 60° by 0.12. */
    private static final double[] RATES = {
      0.05, 0.09, 0.13, 0.17, 0.21, 0.25, -0.05, -0.09, -0.13, -0.17, -0.21, -0.25
    };

    private static final int LOWEST = -24;
    private static final int ALTITUDES = 44;

    /** The light by tenths of a degree from −90°. */
    private static final double[] LIGHT = light();

    private static double[] light() {
      double[] light = new double[1801];
      for (int i = 0; i < light.length; i++) {
        light[i] = ClearSky.illuminance(Math.min(90, i / 10.0 - 90)).ev().value();
      }
      return light;
    }

    @Override
    public int size() {
      return RATES.length * ALTITUDES;
    }

    @Override
    public void at(double seconds, double[] into) {
      double minutes = (seconds - anchorSeconds) / 60;
      for (int i = 0; i < RATES.length; i++) {
        double moved = RATES[i] * minutes;
        for (int j = 0; j < ALTITUDES; j++) {
          double place = Math.max(0, Math.min(1799.999, 10 * (LOWEST + j + moved + 90)));
          int cell = (int) place;
          double share = place - cell;
          into[i * ALTITUDES + j] = LIGHT[cell] + share * (LIGHT[cell + 1] - LIGHT[cell]);
        }
      }
    }
  }
}
