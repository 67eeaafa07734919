package org.scenespan.bench;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Rounding;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.Evening;
import org.scenespan.plan.ramp.Ramp;
import org.scenespan.plan.ramp.RampChoice;
import org.scenespan.plan.ramp.RampSetup;
import org.scenespan.plan.ramp.Sighting;
import org.scenespan.plan.ramp.Wish;
import org.scenespan.rehearsal.BrokenCloud;
import org.scenespan.rehearsal.LightScatter;

/**
 * One lapse of the benchmark: its light with clouds and scatter of a seed, and each way of exposing
 * it. A frame is known one frame late: frame k is chosen knowing k − 2.
 */
final class LapseTrial {
  static final Wish WISH = Wish.usual();

  /** What reading a frame's brightness is off by, standard deviation in stops. */
  private static final double READING = 0.002;

  private static final int DELAY = 2;

  /** How far first-order smoothing goes towards each frame. */
  private static final double SMOOTHING = 0.2;

  private final LapseLight light;
  private final int interval;
  private final double step;
  final int frames;

  /** The scene of each frame as the camera takes it, scatter and clouds and all. */
  private final double[] taken;

  /** The same as read. */
  private final double[] read;

  /**
   * What came out.
   *
   * @param rms of exposure minus what the slow light asks for
   * @param largest of the same
   * @param before the σ of d of the slow light's brightness, before evening
   * @param evenedSigma the σ of d of the frames as taken, evened
   * @param evenedLargest the largest |d| of the same
   * @param changes of setting
   */
  record Result(
      double rms,
      double largest,
      double before,
      double evenedSigma,
      double evenedLargest,
      int changes) {}

  LapseTrial(LapseLight light, int interval, int seed, double step) {
    this.light = light;
    this.interval = interval;
    this.step = step;
    this.frames = light.seconds() / interval;
    BrokenCloud cloud = BrokenCloud.of(seed);
    LightScatter scatter = LightScatter.usual(seed);
    LightScatter reading = new LightScatter(seed + 1000, Stops.ZERO, new Stops(READING));
    this.taken = new double[frames];
    this.read = new double[frames];
    for (int k = 0; k < frames; k++) {
      int t = k * interval;
      taken[k] = light.light()[t] + cloud.at(t).value() + scatter.of(k).value();
      read[k] = taken[k] + reading.of(k).value();
    }
  }

  /** Wide enough for 21 stops and more; the shortest time leaves a timer's steps small. */
  private static Latitude latitude(int interval, double step) {
    Aperture aperture = Aperture.ofNominal(2.8);
    Iso highest = Iso.ofNominal(102_400);
    ShutterLadder times =
        new ShutterLadder(new Shutter(0.000125), new Shutter(0.7 * interval), step);
    return Latitude.of(
        new CameraRange(times, new Iso(100), highest, aperture, aperture),
        PictureLimits.at(aperture).withHighestIso(highest));
  }

  Result ramped(boolean skyIsKnown) {
    Ramp ramp =
        Ramp.start(
            new RampSetup(
                latitude(interval, step),
                WISH,
                interval,
                new Ev(read[0]),
                skyIsKnown ? Optional.of(light.forecast()) : Optional.empty()));
    Exposure[] exposures = new Exposure[frames];
    double[] wishes = new double[frames];
    for (int k = 0; k < frames; k++) {
      if (k >= DELAY) {
        ramp =
            ramp.after(
                new Sighting(
                    (k - DELAY) * interval,
                    exposures[k - DELAY].ev(),
                    new Ev(read[k - DELAY]),
                    Share.NONE,
                    Optional.empty()));
      }
      RampChoice choice = ramp.next(k * interval);
      ramp = ramp.afterChosen(choice);
      exposures[k] = choice.exposure();
      wishes[k] = choice.wish().value();
    }
    return result(exposures, wishes);
  }

  /** Other ways to set a frame. */
  enum Rival {
    FROM_THE_LAST("each frame set from the last, in thirds"),
    DEAD_BAND("a dead band of a third, in thirds"),
    SMOOTHED("first-order smoothing at 0.2");

    final String words;

    Rival(String words) {
      this.words = words;
    }
  }

  Result rival(Rival rival) {
    Latitude clicks = latitude(interval, 0);
    Latitude exact = latitude(interval, step);
    Exposure[] exposures = new Exposure[frames];
    double[] wishes = new double[frames];
    double smooth = read[0];
    for (int k = 0; k < frames; k++) {
      double known = read[Math.max(0, k - DELAY)];
      smooth += SMOOTHING * (known - smooth);
      Ev scene = new Ev(rival == Rival.SMOOTHED ? smooth : known);
      Ev wanted = WISH.exposure(scene);
      wishes[k] = WISH.at(scene).value();
      exposures[k] =
          rival == Rival.SMOOTHED ? timed(exact, wanted) : clicks.at(wanted, Rounding.NEAREST);
      boolean isNear =
          k > 0 && Math.abs(wanted.minus(exposures[k - 1].ev()).value()) <= Stops.THIRD.value();
      if (rival == Rival.DEAD_BAND && isNear) {
        exposures[k] = exposures[k - 1];
      }
    }
    return result(exposures, wishes);
  }

  /** Exact where the device times by itself, with ISO raised before the shutter is shortened. */
  private Exposure timed(Latitude latitude, Ev wanted) {
    Exposure brighter = latitude.at(wanted, Rounding.BRIGHTER);
    if (step == 0) {
      return latitude.at(wanted, Rounding.NEAREST);
    }
    double more = wanted.minus(brighter.ev()).value();
    double steps = Math.rint(brighter.shutter().seconds() / Math.pow(2, more) / step);
    return brighter.withShutter(new Shutter(Math.max(1, steps) * step));
  }

  private Result result(Exposure[] exposures, double[] wishes) {
    double[] seconds = new double[frames];
    double[] slow = new double[frames];
    List<Evening.Frame> told = new ArrayList<>();
    double squares = 0;
    double largest = 0;
    int changes = 0;
    for (int k = 0; k < frames; k++) {
      Ev scene = new Ev(light.slow()[k * interval]);
      double ev = exposures[k].ev().value();
      double off = ev - WISH.exposure(scene).value();
      squares += off * off;
      largest = Math.max(largest, Math.abs(off));
      seconds[k] = k * interval;
      slow[k] = scene.value() - ev;
      changes += k > 0 && !exposures[k].equals(exposures[k - 1]) ? 1 : 0;
      told.add(
          new Evening.Frame(
              seconds[k], Optional.of(new Stops(read[k] - ev)), new Stops(wishes[k])));
    }
    List<Optional<Stops>> gains = Evening.of(told).gains();
    double[] evened = new double[frames];
    for (int k = 0; k < frames; k++) {
      evened[k] = taken[k] - exposures[k].ev().value() + gains.get(k).orElseThrow().value();
    }
    Evening.Smoothness after = Evening.smoothness(seconds, evened);
    return new Result(
        Math.sqrt(squares / frames),
        largest,
        Evening.smoothness(seconds, slow).sigma().value(),
        after.sigma().value(),
        after.largest().value(),
        changes);
  }
}
