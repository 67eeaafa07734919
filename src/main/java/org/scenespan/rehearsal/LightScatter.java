package org.scenespan.rehearsal;

import java.util.SplittableRandom;
import org.scenespan.light.Stops;

/**
 * How a camera's frames differ in still light: the lens does not close to the same hole twice, and
 * the shutter is not open for the same time. A seed and a frame's number repeat every bit.
 *
 * @param seed what is drawn by
 * @param lens the most by which the lens makes a frame brighter or darker, evenly spread, 0 or more
 * @param noise the standard deviation of all else, normally spread, 0 or more
 */
public record LightScatter(long seed, Stops lens, Stops noise) {
  /** A mixing constant (the golden ratio's fraction), so that neighbouring frames are not alike. */
  private static final long MIX = 0x9e3779b97f4a7c15L;

  public LightScatter {
    if (!(lens.value() >= 0) || !(noise.value() >= 0)) {
      throw new IllegalArgumentException("scatter and noise must be 0 or more stops");
    }
  }

  /** A camera that takes what it is told. */
  public static LightScatter none() {
    return new LightScatter(0, Stops.ZERO, Stops.ZERO);
  }

  /** A tenth of a stop of lens, two hundredths of all else [practice]. */
  public static LightScatter usual(long seed) {
    return new LightScatter(seed, new Stops(0.1), new Stops(0.02));
  }

  /** By how much a frame comes out brighter (+) or darker (−). */
  public Stops of(int frame) {
    SplittableRandom random = new SplittableRandom(seed * MIX + frame);
    double even = lens.value() * (2 * random.nextDouble() - 1);
    // Box and Muller, Ann. Math. Stat. 29 (1958)
    double radius = Math.sqrt(-2 * Math.log(1 - random.nextDouble()));
    double normal = radius * Math.cos(2 * Math.PI * random.nextDouble());
    return new Stops(even + noise.value() * normal);
  }
}
