package org.scenespan.rehearsal;

import java.nio.file.Path;
import java.util.List;
import org.scenespan.frame.Luminance;
import org.scenespan.frame.Radiance;
import org.scenespan.light.Ev;
import org.scenespan.light.Stops;

/**
 * The light that a simulated camera looks at: linear radiance with the primaries of ITU-R BT.709,
 * of which the log-average luminance (the geometric mean over the pixels that have any) stands at a
 * known EV. Immutable.
 */
public final class Scene {
  private final String name;
  private final Radiance radiance;
  private final Ev ev;
  private final double logAverage;

  private Scene(String name, Radiance radiance, Ev ev, double logAverage) {
    this.name = name;
    this.radiance = radiance;
    this.ev = ev;
    this.logAverage = logAverage;
  }

  /**
   * A scene of given radiance.
   *
   * @param ev where its log-average luminance stands
   * @throws IllegalArgumentException if there is no light in it
   */
  static Scene of(String name, Radiance radiance, Ev ev) {
    return new Scene(name, radiance, ev, logAverage(radiance));
  }

  /**
   * Reads any Radiance picture ({@code .hdr}).
   *
   * @param ev where its log-average luminance stands
   * @throws IllegalArgumentException in one line, if the file cannot be read or is no scene
   */
  public static Scene load(Path hdr, Ev ev) {
    Radiance radiance = RadianceFile.read(hdr);
    try {
      return of(String.valueOf(hdr.getFileName()), radiance, ev);
    } catch (IllegalArgumentException e) {
      throw new IllegalArgumentException(hdr + " is no scene: " + e.getMessage(), e);
    }
  }

  /** The names of the scenes that need no file. */
  public static List<String> names() {
    return BundledScenes.names();
  }

  /**
   * A scene drawn by code, the same each time.
   *
   * @param ev where its log-average luminance stands
   * @throws IllegalArgumentException if there is no scene of that name
   */
  public static Scene bundled(String name, Ev ev) {
    return of(name, BundledScenes.draw(name), ev);
  }

  /**
   * A small landscape for lapses.
   *
   * @param ev where its log-average luminance stands
   */
  public static Scene dawn(Ev ev) {
    return of("dawn", DawnScene.draw(), ev);
  }

  /** The same scene in other light. */
  public Scene at(Ev other) {
    return new Scene(name, radiance, other, logAverage);
  }

  public String name() {
    return name;
  }

  public int width() {
    return radiance.width();
  }

  public int height() {
    return radiance.height();
  }

  /** Where the log-average luminance stands: what a meter reads that looks at the whole. */
  public Ev ev() {
    return ev;
  }

  /** The scene EV of a luminance, or of one channel of a neutral one: above 0. */
  public Ev evOf(double value) {
    return ev.plus(Stops.ofRatio(value / logAverage));
  }

  /** Relative luminance of a pixel, in the units of the scene's own file. */
  public double luminance(int x, int y) {
    float[] row = radiance.row(y);
    return Luminance.of(row[3 * x], row[3 * x + 1], row[3 * x + 2]);
  }

  /** Red, green and blue of each pixel of a row, from the left; not a copy. */
  float[] row(int y) {
    return radiance.row(y);
  }

  private static double logAverage(Radiance radiance) {
    double sum = 0;
    long lit = 0;
    for (int y = 0; y < radiance.height(); y++) {
      float[] row = radiance.row(y);
      for (int i = 0; i < row.length; i += 3) {
        double luminance = Luminance.of(row[i], row[i + 1], row[i + 2]);
        if (!(luminance >= 0 && luminance < Double.POSITIVE_INFINITY)) {
          throw new IllegalArgumentException("row " + y + " holds a value that is no light");
        }
        if (luminance > 0) {
          sum += Math.log(luminance);
          lit++;
        }
      }
    }
    if (lit == 0) {
      throw new IllegalArgumentException("there is no light in it");
    }
    return Math.exp(sum / lit);
  }
}
