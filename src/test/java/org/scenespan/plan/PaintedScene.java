package org.scenespan.plan;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;
import org.scenespan.frame.ClippedAreas;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LogHistogram;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Exposure;

/**
 * A grey scene that is known exactly, seen through a sensor with noise: EV of each pixel, sorted.
 */
record PaintedScene(List<Double> pixels, NoiseModel noise, long seed) {
  static final int PIXELS = 20_000;

  /** Patches of light, each uniform in stops, somewhere between two EVs. */
  static PaintedScene random(long seed, double lowEv, double highEv) {
    SplittableRandom random = new SplittableRandom(seed);
    int patches = random.nextInt(1, 6);
    List<double[]> ranges = new ArrayList<>();
    ranges.add(new double[] {lowEv, lowEv + random.nextDouble() * (highEv - lowEv)});
    ranges.add(new double[] {highEv - random.nextDouble() * (highEv - lowEv), highEv});
    for (int i = 0; i < patches; i++) {
      double one = lowEv + random.nextDouble() * (highEv - lowEv);
      double other = lowEv + random.nextDouble() * (highEv - lowEv);
      ranges.add(new double[] {Math.min(one, other), Math.max(one, other)});
    }
    List<Double> pixels = new ArrayList<>();
    for (int i = 0; i < PIXELS; i++) {
      double[] range = ranges.get(random.nextInt(ranges.size()));
      pixels.add(range[0] + random.nextDouble() * (range[1] - range[0]));
    }
    pixels.sort(Comparator.naturalOrder());
    return new PaintedScene(pixels, NoiseModel.TYPICAL, seed);
  }

  static PaintedScene uniform(double lowEv, double highEv) {
    List<Double> pixels = new ArrayList<>();
    for (int i = 0; i < PIXELS; i++) {
      pixels.add(lowEv + (highEv - lowEv) * (i + 0.5) / PIXELS);
    }
    return new PaintedScene(pixels, NoiseModel.TYPICAL, 1);
  }

  double logAverage() {
    return pixels.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
  }

  /** A raw frame of the scene: photon and read noise, clipping, fourteen bits. */
  Evidence expose(Exposure exposure) {
    SplittableRandom random = new SplittableRandom(seed ^ Double.hashCode(exposure.ev().value()));
    double saturationEv = MidGrey.saturation(exposure).value();
    double well = noise.saturation(exposure.iso());
    double codes = (1 << noise.bits()) - 1;
    LogHistogram.Builder histogram = new LogHistogram.Builder();
    for (double ev : pixels) {
      double electrons = well * Math.pow(2, ev - saturationEv);
      double sigma = 0.553 * Math.sqrt(electrons + noise.readNoise() * noise.readNoise());
      double seen = electrons + sigma * random.nextGaussian();
      double code = Math.rint(Math.max(0, Math.min(1, seen / well)) * codes);
      histogram.add(code / codes, 1);
    }
    LogHistogram pixelsByLight = histogram.build();
    return new Evidence(exposure, FrameSource.RAW, pixelsByLight, pixelsByLight, ClippedAreas.NONE);
  }

  /** The share of the pixels that no reach holds and that lie above all reaches. */
  double missedAbove(List<Reach> reaches) {
    double top = reaches.stream().mapToDouble(reach -> reach.high().value()).max().orElseThrow();
    return share(ev -> ev > top);
  }

  double missedBelow(List<Reach> reaches) {
    double bottom = reaches.stream().mapToDouble(reach -> reach.low().value()).min().orElseThrow();
    return share(ev -> ev < bottom);
  }

  double missedBetween(List<Reach> reaches) {
    double top = reaches.stream().mapToDouble(reach -> reach.high().value()).max().orElseThrow();
    double bottom = reaches.stream().mapToDouble(reach -> reach.low().value()).min().orElseThrow();
    return share(
        ev ->
            ev >= bottom
                && ev <= top
                && reaches.stream()
                    .noneMatch(reach -> ev >= reach.low().value() && ev <= reach.high().value()));
  }

  private double share(java.util.function.DoublePredicate predicate) {
    long count = pixels.stream().mapToDouble(Double::doubleValue).filter(predicate).count();
    return (double) count / pixels.size();
  }
}
