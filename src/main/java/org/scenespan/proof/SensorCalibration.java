package org.scenespan.proof;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.scenespan.frame.MeasuredNoise;
import org.scenespan.frame.PhotonTransfer;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;

/**
 * A sensor's noise from raw frames of a still scene: pairs of frames with equal settings where
 * there are any, else the steps of a bracket.
 */
final class SensorCalibration {
  /** A pair of a bracket whose light differs more adds the noise of the darker, scaled up. */
  private static final double MOST_RATIO = 8.5;

  private static final double LEAST_RATIO = 1.05;

  /** Fewer fields do not tell how much brighter one frame is than another. */
  private static final int LEAST_FIELDS = 20;

  /** A field whose light varies by more than this many times its noise has something in it. */
  private static final double FLAT_VARIANCES = 4;

  private static final int ENOUGH_FLAT = 200;

  /** In a bracket a frame serves in two pairs: half of what the samples seem to tell. */
  private static final double SHARED_FRAMES = Math.sqrt(2);

  /** A raw frame. */
  record Frame(SensorPatches patches, Exposure exposure) {}

  private record Pair(Frame bright, Frame dark, double ratio) {}

  private SensorCalibration() {}

  /**
   * @param frames raw, of one camera, in the order in which they were taken
   * @return at each ISO that could be told
   */
  static List<MeasuredNoise> noise(List<Frame> frames) {
    Map<Long, List<Frame>> byIso = new TreeMap<>();
    for (Frame frame : frames) {
      long third = Math.round(3 * frame.exposure.iso().sv());
      byIso.computeIfAbsent(third, iso -> new ArrayList<>()).add(frame);
    }
    List<MeasuredNoise> all = new ArrayList<>();
    for (List<Frame> group : byIso.values()) {
      at(group, true).or(() -> at(group, false)).ifPresent(all::add);
    }
    return all;
  }

  private static Optional<MeasuredNoise> at(List<Frame> frames, boolean equal) {
    List<Pair> pairs = equal ? equalPairs(frames) : steps(frames);
    if (pairs.isEmpty()) {
      return Optional.empty();
    }
    int bits = frames.get(0).patches.bits();
    List<PhotonTransfer.Sample> samples = samples(pairs, Double.POSITIVE_INFINITY, 0);
    Optional<PhotonTransfer.Result> found = PhotonTransfer.fit(samples, bits);
    if (!equal && found.isPresent()) {
      // Texture that two frames do not share to the site, as in wind, would count as noise.
      double slope = 1 / found.get().saturation();
      double floor = Math.pow(Math.max(1, found.get().readNoise()) * slope, 2);
      List<PhotonTransfer.Sample> flat = samples(pairs, slope, floor);
      if (flat.size() >= ENOUGH_FLAT) {
        found = PhotonTransfer.fit(flat, bits);
      }
    }
    double widened = equal ? 1 : SHARED_FRAMES;
    long used = pairs.stream().flatMap(p -> List.of(p.bright, p.dark).stream()).distinct().count();
    Iso iso = frames.get(0).exposure.iso();
    return found.map(
        result ->
            new MeasuredNoise(
                iso,
                result.saturation(),
                widened * result.saturationError(),
                result.readNoise(),
                widened * result.readNoiseError(),
                bits,
                (int) used,
                result.samples(),
                equal));
  }

  /** Each frame in one pair only, with the next of the same settings. */
  private static List<Pair> equalPairs(List<Frame> frames) {
    Map<Object, Frame> waiting = new LinkedHashMap<>();
    List<Pair> pairs = new ArrayList<>();
    for (Frame frame : frames) {
      Object settings = List.of(frame.exposure, frame.patches.fields());
      Frame other = waiting.remove(settings);
      if (other == null) {
        waiting.put(settings, frame);
      } else {
        pair(frame, other, 1 / LEAST_RATIO, LEAST_RATIO).ifPresent(pairs::add);
      }
    }
    return pairs;
  }

  /** Neighbours in light, at one aperture. */
  private static List<Pair> steps(List<Frame> frames) {
    List<Frame> sorted = new ArrayList<>(frames);
    sorted.sort(Comparator.comparing((Frame frame) -> frame.exposure.ev()).reversed());
    List<Pair> pairs = new ArrayList<>();
    for (int i = 1; i < sorted.size(); i++) {
      Frame bright = sorted.get(i);
      Frame dark = sorted.get(i - 1);
      if (bright.exposure.aperture().equals(dark.exposure.aperture())) {
        pair(bright, dark, LEAST_RATIO, MOST_RATIO).ifPresent(pairs::add);
      }
    }
    return pairs;
  }

  private static Optional<Pair> pair(Frame bright, Frame dark, double least, double most) {
    if (bright.patches.fields() != dark.patches.fields()) {
      return Optional.empty();
    }
    double above = 0;
    double below = 0;
    int fields = 0;
    for (int field = 0; field < bright.patches.fields(); field++) {
      double light = bright.patches.mean(field);
      double other = dark.patches.mean(field);
      if (!Double.isNaN(light) && !Double.isNaN(other)) {
        above += light;
        below += other;
        fields++;
      }
    }
    double ratio = above / below;
    // Two frames without light are a pair of equal ones, too, and tell the read noise best.
    boolean dim = fields > 0 && above / fields < 1e-3 && least < 1;
    boolean good = fields >= LEAST_FIELDS && (dim || ratio >= least && ratio <= most);
    return good ? Optional.of(new Pair(bright, dark, dim ? 1 : ratio)) : Optional.empty();
  }

  /**
   * @param slope of the noise's line, by which a field is judged to be flat
   */
  private static List<PhotonTransfer.Sample> samples(List<Pair> pairs, double slope, double floor) {
    List<PhotonTransfer.Sample> samples = new ArrayList<>();
    for (int i = 0; i < pairs.size(); i++) {
      Pair pair = pairs.get(i);
      SensorPatches bright = pair.bright.patches;
      for (int field = 0; field < bright.fields(); field++) {
        double light = bright.mean(field);
        boolean told = !Double.isNaN(light) && !Double.isNaN(pair.dark.patches.mean(field));
        double noise = Math.max(0, light) * slope + floor;
        if (told && bright.spread(field) <= FLAT_VARIANCES * noise) {
          samples.add(
              new PhotonTransfer.Sample(
                  light,
                  pair.ratio,
                  bright.differenceVariance(pair.dark.patches, pair.ratio, field),
                  SensorPatches.SITES - 1,
                  4 * i + bright.quarter(field)));
        }
      }
    }
    return samples;
  }
}
