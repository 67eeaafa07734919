package org.scenespan.plan.ramp;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import java.util.function.IntPredicate;
import java.util.function.IntToDoubleFunction;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Iso;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;

/** Ramps through a light that is given by seconds; each frame is read one frame late. */
final class LapseRun {
  final List<RampChoice> choices = new ArrayList<>();
  final double interval;
  private final DoubleUnaryOperator light;
  private DoubleUnaryOperator seen;
  private IntToDoubleFunction scatter = frame -> 0;
  private IntPredicate read = frame -> true;
  private Optional<LightForecast> forecast = Optional.empty();
  private double step = 0.00001;
  private Wish wish = Wish.level(Stops.ZERO);

  LapseRun(double interval, DoubleUnaryOperator light) {
    this.interval = interval;
    this.light = light;
    this.seen = light;
  }

  LapseRun seeing(DoubleUnaryOperator all) {
    seen = all;
    return this;
  }

  LapseRun scattering(IntToDoubleFunction scatter) {
    this.scatter = scatter;
    return this;
  }

  LapseRun reading(IntPredicate read) {
    this.read = read;
    return this;
  }

  LapseRun knowing(LightForecast forecast) {
    this.forecast = Optional.of(forecast);
    return this;
  }

  LapseRun wishing(Wish wish) {
    this.wish = wish;
    return this;
  }

  LapseRun inThirds() {
    step = 0;
    return this;
  }

  static Latitude latitude(double longest, double step) {
    Aperture aperture = Aperture.ofNominal(4);
    CameraRange camera =
        new CameraRange(
            new ShutterLadder(new Shutter(0.0002), new Shutter(longest), step),
            new Iso(100),
            new Iso(409_600),
            aperture,
            aperture);
    return Latitude.of(camera, PictureLimits.at(aperture).withHighestIso(new Iso(409_600)));
  }

  LapseRun run(int frames) {
    RampSetup setup =
        new RampSetup(
            latitude(0.7 * interval, step),
            wish,
            interval,
            new Ev(light.applyAsDouble(0)),
            forecast);
    Ramp ramp = Ramp.start(setup);
    for (int k = 0; k < frames; k++) {
      int last = k - 2;
      if (last >= 0 && read.test(last)) {
        double scene = seen.applyAsDouble(last * interval) + scatter.applyAsDouble(last);
        Ev exposure = choices.get(last).exposure().ev();
        ramp =
            ramp.after(
                new Sighting(
                    last * interval, exposure, new Ev(scene), Share.NONE, Optional.empty()));
      }
      RampChoice choice = ramp.next(k * interval);
      choices.add(choice);
      ramp = ramp.afterChosen(choice);
    }
    return this;
  }

  /** How far the exposure of a frame is from what the slow light asks for. */
  double error(int frame) {
    Ev slow = new Ev(light.applyAsDouble(frame * interval));
    return choices.get(frame).exposure().ev().minus(wish.exposure(slow)).value();
  }

  double rms(int from, int to) {
    double sum = 0;
    for (int k = from; k < to; k++) {
      sum += error(k) * error(k);
    }
    return Math.sqrt(sum / (to - from));
  }

  double largest(int from, int to) {
    double largest = 0;
    for (int k = from; k < to; k++) {
      largest = Math.max(largest, Math.abs(error(k)));
    }
    return largest;
  }

  int changes(int from) {
    int changes = 0;
    for (int k = from + 1; k < choices.size(); k++) {
      changes += choices.get(k).exposure().equals(choices.get(k - 1).exposure()) ? 0 : 1;
    }
    return changes;
  }
}
