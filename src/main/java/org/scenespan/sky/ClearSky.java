package org.scenespan.sky;

import java.time.Duration;
import java.time.Instant;
import org.scenespan.light.Illuminance;
import org.scenespan.light.Stops;

/**
 * The light of a clear sky without a moon on level ground, by the sun's altitude: Vallado,
 * <em>Fundamentals of Astrodynamics and Applications</em>, table of sunlight illuminance.
 *
 * <p>The table is a cubic in each of six spans of altitude, log10 E = l0 + l1·x + l2·x² + l3·x³
 * with x = h / 90°. At the joins the cubics differ by up to 0.014 stop, which a derivative would
 * show as a spike. So within half a degree of a join the two are blended by 3u² − 2u³, which leaves
 * value and slope continuous. Below −18°, where the table ends, the slope runs out to nothing
 * within one degree, and the night keeps the light of the moonless sky.
 */
public final class ClearSky {
  /** How far from a join two cubics are blended, in degrees. */
  private static final double BLEND_DEGREES = 0.5;

  /** The time over which a rate is taken. */
  private static final Duration RATE_SPAN = Duration.ofSeconds(20);

  /** Where one row of the table gives way to the next, in degrees, descending. */
  private static final double[] JOINS = {20, 5, -0.8, -5, -12};

  /** Where the table ends, and over how many degrees the light then stops falling. */
  private static final double TABLE_END = -18;

  private static final double RUN_OUT_DEGREES = 1;

  /** l0 to l3 from the highest sun to the lowest. */
  private static final double[][] ROWS = {
    {3.74, 3.97, -4.07, 1.47},
    {3.05, 13.28, -45.98, 64.33},
    {2.88, 22.26, -207.64, 1034.30},
    {2.88, 21.81, -258.11, -858.36},
    {2.70, 12.17, -431.69, -1899.83},
    {13.84, 262.72, 1447.42, 2797.93}
  };

  private ClearSky() {}

  /**
   * The illuminance of level ground.
   *
   * @param sun where the sun's centre stands, its altitude without refraction
   */
  public static Illuminance illuminance(SunPosition sun) {
    return illuminance(sun.altitudeDegrees());
  }

  /**
   * The illuminance of level ground.
   *
   * @param altitudeDegrees of the sun's centre without refraction, −90 to 90
   */
  public static Illuminance illuminance(double altitudeDegrees) {
    if (!(altitudeDegrees >= -90 && altitudeDegrees <= 90)) {
      throw new IllegalArgumentException(
          "sun altitude (" + altitudeDegrees + ") must be -90 to 90 degrees");
    }
    return new Illuminance(Math.pow(10, log10(altitudeDegrees)));
  }

  /** How fast the light on the ground grows, in stops a minute; negative in the evening. */
  public static Stops perMinute(Place place, Instant when) {
    double before = log10(Sun.at(place, when.minus(RATE_SPAN)).altitudeDegrees());
    double after = log10(Sun.at(place, when.plus(RATE_SPAN)).altitudeDegrees());
    double minutes = 2 * RATE_SPAN.toSeconds() / 60.0;
    return new Stops((after - before) / Math.log10(2) / minutes);
  }

  private static double log10(double altitude) {
    if (altitude < TABLE_END) {
      return runOut(altitude);
    }
    int row = 0;
    while (row < JOINS.length && altitude < JOINS[row]) {
      row++;
    }
    if (row < JOINS.length && altitude - JOINS[row] < BLEND_DEGREES) {
      return blended(row, altitude);
    }
    if (row > 0 && JOINS[row - 1] - altitude < BLEND_DEGREES) {
      return blended(row - 1, altitude);
    }
    return cubic(row, altitude);
  }

  private static double runOut(double altitude) {
    int last = ROWS.length - 1;
    double beyond = Math.min(RUN_OUT_DEGREES, TABLE_END - altitude);
    double slope = cubicSlope(last, TABLE_END);
    return cubic(last, TABLE_END) - slope * (beyond - beyond * beyond / (2 * RUN_OUT_DEGREES));
  }

  /** Across the join below a row. */
  private static double blended(int row, double altitude) {
    double u = (altitude - JOINS[row] + BLEND_DEGREES) / (2 * BLEND_DEGREES);
    double weight = u * u * (3 - 2 * u);
    return weight * cubic(row, altitude) + (1 - weight) * cubic(row + 1, altitude);
  }

  private static double cubic(int row, double altitude) {
    double x = altitude / 90;
    double[] l = ROWS[row];
    return l[0] + x * (l[1] + x * (l[2] + x * l[3]));
  }

  /** The derivative of a row, log10 of lux a degree. */
  private static double cubicSlope(int row, double altitude) {
    double x = altitude / 90;
    double[] l = ROWS[row];
    return (l[1] + x * (2 * l[2] + x * 3 * l[3])) / 90;
  }
}
