package org.scenespan.proof;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.scenespan.frame.ExposureChain;
import org.scenespan.frame.MeasuredShutters;
import org.scenespan.frame.ShutterError;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/**
 * Real shutter times from raw frames in light that does not change: how much more light each frame
 * got than that with the longest shutter, against what the exact times say. Light tells ratios
 * only; the longest time is the reference, since what a shutter is late by is the least part of it.
 */
final class ShutterCalibration {
  /** Below this light the black level's own error counts, relative to saturation. */
  private static final double LEAST_LIGHT = 0.004;

  /** Patches of a scene that stands still in even light agree better than this. */
  private static final double STILL_STOPS = 0.05;

  /** With one frame each the shutter's scatter and the lamp's are unknown [practice], stops. */
  private static final double SINGLE_ERROR = 0.05;

  /** Student's t of 68.3 %, by degrees of freedom from 1: few frames tell their scatter badly. */
  private static final double[] STUDENT = {1.84, 1.32, 1.20, 1.14, 1.11, 1.09, 1.08, 1.07};

  private ShutterCalibration() {}

  /**
   * @param frames raw, of one camera and one still scene
   * @return absent where less than two shutters at one aperture and ISO can be told apart
   */
  static Optional<MeasuredShutters> of(List<SensorCalibration.Frame> frames) {
    Map<String, List<SensorCalibration.Frame>> series = new TreeMap<>();
    for (SensorCalibration.Frame frame : frames) {
      Iso iso = frame.exposure().iso();
      String same = frame.exposure().aperture() + " " + iso + " " + frame.patches().fields();
      series.computeIfAbsent(same, key -> new ArrayList<>()).add(frame);
    }
    return series.values().stream()
        .max(Comparator.comparingInt(List::size))
        .flatMap(ShutterCalibration::times);
  }

  private static Optional<MeasuredShutters> times(List<SensorCalibration.Frame> frames) {
    int reference = 0;
    double[][] light = new double[frames.size()][frames.get(0).patches().fields()];
    for (int f = 0; f < light.length; f++) {
      for (int field = 0; field < light[f].length; field++) {
        double mean = frames.get(f).patches().mean(field);
        light[f][field] = mean >= LEAST_LIGHT ? mean : Double.NaN;
      }
      boolean longer = shutter(frames, f).compareTo(shutter(frames, reference)) > 0;
      reference = longer ? f : reference;
    }
    ExposureChain.Chain chain = ExposureChain.of(light, reference);
    double[] stops = chain.stops();
    Map<Shutter, List<Double>> errors = new TreeMap<>();
    for (int f = 0; f < stops.length; f++) {
      if (!Double.isNaN(stops[f])) {
        double nominal = shutter(frames, reference).tv() - shutter(frames, f).tv();
        errors
            .computeIfAbsent(shutter(frames, f), key -> new ArrayList<>())
            .add(stops[f] - nominal);
      }
    }
    return errors.size() < 2 || chain.residual() > STILL_STOPS
        ? Optional.empty()
        : Optional.of(measured(shutter(frames, reference), errors));
  }

  private static Shutter shutter(List<SensorCalibration.Frame> frames, int frame) {
    return frames.get(frame).exposure().shutter();
  }

  private static MeasuredShutters measured(Shutter reference, Map<Shutter, List<Double>> errors) {
    double squares = 0;
    int freedom = 0;
    for (List<Double> of : errors.values()) {
      double mean = mean(of);
      squares += of.stream().mapToDouble(error -> Math.pow(error - mean, 2)).sum();
      freedom += of.size() - 1;
    }
    double scatter = freedom == 0 ? 0 : student(freedom) * Math.sqrt(squares / freedom);
    double zero = mean(errors.get(reference));
    int zeroFrames = errors.get(reference).size();
    List<ShutterError> told = new ArrayList<>();
    for (Map.Entry<Shutter, List<Double>> each : errors.entrySet()) {
      int n = each.getValue().size();
      boolean own = each.getKey().equals(reference);
      double error = scatter * Math.sqrt(1.0 / n + 1.0 / zeroFrames);
      double standard = own ? 0 : freedom == 0 ? SINGLE_ERROR : error;
      Stops off = own ? Stops.ZERO : new Stops(mean(each.getValue()) - zero);
      told.add(new ShutterError(each.getKey(), off, standard, n));
    }
    return new MeasuredShutters(reference, told);
  }

  private static double student(int freedom) {
    return freedom <= STUDENT.length ? STUDENT[freedom - 1] : 1 + 0.5 / freedom;
  }

  private static double mean(List<Double> values) {
    return values.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
  }
}
