package org.scenespan.rehearsal;

import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;

/**
 * A sensor of three layers: each pixel sees red, green and blue. A channel whose scene EV equals
 * the exposure's yields mid grey, 2.977 stops below saturation (ISO 12232); photons arrive by
 * Poisson's law, reading adds its noise, and the codes clip at the white level.
 *
 * <p>Each row of each frame has a random stream of its own, so a seed repeats a run bit for bit
 * however many threads work.
 *
 * @param noise full well, read noise and bits
 * @param seed of all its noise
 */
record Sensor(NoiseModel noise, long seed) {
  /** Black stands at this part of the codes: room for the read noise on both sides of no light. */
  private static final double BLACK_PART = 1.0 / 32;

  /** Beyond this many deviations above saturation a pixel is white without drawing its noise. */
  private static final double CERTAIN_DEVIATIONS = 10;

  /** The code of no light. */
  int black() {
    return (int) ((1 << noise.bits()) * BLACK_PART);
  }

  /** The code of saturation, the highest. */
  int white() {
    return (1 << noise.bits()) - 1;
  }

  /**
   * Electrons that one unit of the scene's radiance yields, before clipping: saturation is at 2.977
   * stops above the exposure's EV.
   */
  double electronsPerUnit(Scene scene, Exposure exposure) {
    double stops = scene.evOf(1).minus(MidGrey.saturation(exposure)).value();
    return noise.saturation(exposure.iso()) * Math.pow(2, stops);
  }

  /**
   * Takes a frame.
   *
   * @param frame its number; another number draws other noise
   */
  SensorFrame expose(Scene scene, Exposure exposure, int frame) {
    double electronsPerUnit = electronsPerUnit(scene, exposure);
    int width = scene.width();
    short[] codes = new short[3 * width * scene.height()];
    IntStream.range(0, scene.height())
        .parallel()
        .forEach(
            y ->
                exposeRow(
                    scene.row(y),
                    electronsPerUnit,
                    exposure.iso(),
                    new SplittableRandom(mixed(mixed(seed + frame) + y)),
                    codes,
                    3 * width * y));
    return new SensorFrame(width, scene.height(), codes, black(), white());
  }

  private void exposeRow(
      float[] radiance,
      double electronsPerUnit,
      Iso iso,
      SplittableRandom random,
      short[] codes,
      int at) {
    double saturation = noise.saturation(iso);
    double certain = saturation + CERTAIN_DEVIATIONS * Math.sqrt(saturation);
    int black = black();
    int white = white();
    double codesPerElectron = (white - black) / saturation;
    for (int i = 0; i < radiance.length; i++) {
      double mean = radiance[i] * electronsPerUnit;
      int code = white;
      if (mean < certain) {
        double electrons = Photons.withReadNoise(mean, noise.readNoise(), random);
        // Full well: what has no room is white, and white is nothing else.
        double exact = black + electrons * codesPerElectron;
        code = electrons >= saturation ? white : (int) Math.rint(Math.min(exact, white - 1));
      }
      codes[at + i] = (short) Math.max(0, code);
    }
  }

  /** Spreads neighbouring numbers over all longs (the finaliser of MurmurHash3). */
  private static long mixed(long value) {
    long z = (value ^ value >>> 33) * 0xff51afd7ed558ccdL;
    z = (z ^ z >>> 33) * 0xc4ceb9fe1a85ec53L;
    return z ^ z >>> 33;
  }
}
