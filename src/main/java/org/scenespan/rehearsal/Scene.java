package org.scenespan.rehearsal;

import java.lang.ref.SoftReference;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
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
  /**
   * What code has drawn, for whoever asks again: the same each time, and let go when in the way.
   */
  private static final Map<String, SoftReference<CompletableFuture<Light>>> DRAWN =
      new ConcurrentHashMap<>();

  private final String name;
  private final CompletableFuture<Light> light;
  private final Ev ev;

  /**
   * @param logAverage of the radiance's luminance
   */
  private record Light(Radiance radiance, double logAverage) {
    static Light of(Radiance radiance) {
      return new Light(radiance, logAverageOf(radiance));
    }
  }

  private Scene(String name, CompletableFuture<Light> light, Ev ev) {
    this.name = name;
    this.light = light;
    this.ev = ev;
  }

  /** Begins to draw at once, beside whatever else is done until the scene is looked at. */
  private static Scene drawn(String name, Supplier<Radiance> drawing, Ev ev) {
    CompletableFuture<Light> light = kept(name);
    if (light == null || light.isCompletedExceptionally()) {
      light = CompletableFuture.supplyAsync(() -> Light.of(drawing.get()));
      DRAWN.put(name, new SoftReference<>(light));
    }
    return new Scene(name, light, ev);
  }

  private static CompletableFuture<Light> kept(String name) {
    SoftReference<CompletableFuture<Light>> kept = DRAWN.get(name);
    return kept == null ? null : kept.get();
  }

  private Radiance radiance() {
    return light.join().radiance();
  }

  /**
   * A scene of given radiance.
   *
   * @param ev where its log-average luminance stands
   * @throws IllegalArgumentException if there is no light in it
   */
  static Scene of(String name, Radiance radiance, Ev ev) {
    return new Scene(name, CompletableFuture.completedFuture(Light.of(radiance)), ev);
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
    BundledScenes.check(name);
    return drawn(name, () -> BundledScenes.draw(name), ev);
  }

  /**
   * A small landscape for lapses.
   *
   * @param ev where its log-average luminance stands
   */
  public static Scene dawn(Ev ev) {
    return drawn("dawn", DawnScene::draw, ev);
  }

  /** The same scene in other light. */
  public Scene at(Ev other) {
    return new Scene(name, light, other);
  }

  public String name() {
    return name;
  }

  public int width() {
    return radiance().width();
  }

  public int height() {
    return radiance().height();
  }

  /** Where the log-average luminance stands: what a meter reads that looks at the whole. */
  public Ev ev() {
    return ev;
  }

  /** The scene EV of a luminance, or of one channel of a neutral one: above 0. */
  public Ev evOf(double value) {
    return ev.plus(Stops.ofRatio(value / light.join().logAverage()));
  }

  /** Relative luminance of a pixel, in the units of the scene's own file. */
  public double luminance(int x, int y) {
    float[] row = radiance().row(y);
    return Luminance.of(row[3 * x], row[3 * x + 1], row[3 * x + 2]);
  }

  /** Red, green and blue of each pixel of a row, from the left; not a copy. */
  float[] row(int y) {
    return radiance().row(y);
  }

  private static double logAverageOf(Radiance radiance) {
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
