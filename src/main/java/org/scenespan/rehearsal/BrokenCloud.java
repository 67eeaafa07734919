package org.scenespan.rehearsal;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.scenespan.light.Stops;

/**
 * Broken cloud that passes before the sun: shade after shade, each with its depth, its edges and
 * the bright rim before and behind it. An edge takes the light down by up to 2.3 stops, and a rim
 * up by 0.58 (cloud enhancement) in 4 to 20 seconds, 10 to 100 times faster than dawn. Night and
 * day are the same, which is harder than nature's twilight. A seed repeats every bit.
 */
public final class BrokenCloud {
  /** The deepest shade. */
  public static final Stops DEEPEST = new Stops(-2.3);

  /** The brightest rim. */
  public static final Stops BRIGHTEST = new Stops(0.58);

  /** The clouds are drawn for so long; after that the sky is clear. */
  private static final double SECONDS = 2 * 86_400;

  private static final double SHALLOWEST = -0.5;
  private static final double[] CLOUD_SECONDS = {20, 240};
  private static final double[] GAP_SECONDS = {60, 480};
  private static final double[] EDGE_SECONDS = {4, 20};

  /** Each cloud: start, end, edge in seconds, depth and rim in stops. */
  private final double[] starts;

  private final double[][] clouds;

  private BrokenCloud(double[] starts, double[][] clouds) {
    this.starts = starts;
    this.clouds = clouds;
  }

  public static BrokenCloud of(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    int most = (int) (SECONDS / (CLOUD_SECONDS[0] + GAP_SECONDS[0])) + 1;
    double[] starts = new double[most];
    double[][] clouds = new double[most][];
    int count = 0;
    double at = between(random, GAP_SECONDS);
    while (at < SECONDS && count < most) {
      double length = between(random, CLOUD_SECONDS);
      double edge = Math.min(between(random, EDGE_SECONDS), length / 2);
      double depth = SHALLOWEST + (DEEPEST.value() - SHALLOWEST) * random.nextDouble();
      double rim = BRIGHTEST.value() * random.nextDouble();
      starts[count] = at;
      clouds[count++] = new double[] {at, at + length, edge, depth, rim};
      at += length + between(random, GAP_SECONDS);
    }
    return new BrokenCloud(Arrays.copyOf(starts, count), Arrays.copyOf(clouds, count));
  }

  /** Any length is as likely as any other of the same ratio. */
  private static double between(SplittableRandom random, double[] range) {
    return range[0] * Math.pow(range[1] / range[0], random.nextDouble());
  }

  /** How much brighter (+) or darker (−) the cloud makes the light at a moment. */
  public Stops at(double seconds) {
    int found = Arrays.binarySearch(starts, seconds);
    int before = found >= 0 ? found : -found - 2;
    double sum = before >= 0 ? of(clouds[before], seconds) : 0;
    if (before + 1 < clouds.length) {
      sum += of(clouds[before + 1], seconds);
    }
    return new Stops(Math.max(DEEPEST.value(), Math.min(BRIGHTEST.value(), sum)));
  }

  /** The rim rises for the length of an edge outside of the cloud, the shade falls inside. */
  private static double of(double[] cloud, double seconds) {
    double inside = Math.min(seconds - cloud[0], cloud[1] - seconds) / cloud[2];
    if (inside >= 0) {
      return cloud[4] + (cloud[3] - cloud[4]) * Turbulence.step(0, 1, inside);
    }
    return cloud[4] * Turbulence.step(-1, 0, inside);
  }
}
