package org.scenespan.bench;

import java.util.Optional;
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
import org.scenespan.plan.ramp.Ramp;
import org.scenespan.plan.ramp.RampChoice;
import org.scenespan.plan.ramp.RampSetup;
import org.scenespan.plan.ramp.Sighting;

/** Two scenes by themselves: a single cloud, and the disc clearing the ridge. */
final class LapseScenes {
  /** What counts as off after a cloud, stops. */
  private static final double OFF = 0.03;

  private static final int DELAY = 2;

  private LapseScenes() {}

  /**
   * What a cloud left behind.
   *
   * @param largest the largest error from its coming to ten minutes after, stops
   * @param crossings how often the error changed sides beyond 0.03 stop in that time
   */
  record AfterCloud(double largest, int crossings) {}

  /** A shade of two minutes, 2.3 stops deep, with no noise, half an hour into the dawn. */
  static AfterCloud cloud(LapseLight light, int interval) {
    double from = 1800;
    double to = from + 120;
    double largest = 0;
    int crossings = 0;
    int side = 0;
    Ramp ramp = ramp(interval, new Ev(light.light()[0]));
    for (int k = 0; k * interval < to + 600; k++) {
      if (k >= DELAY) {
        int t = (k - DELAY) * interval;
        double shade = t >= from && t < to ? -2.3 : 0;
        ramp = ramp.after(sighting(t, 0, light.light()[t] + shade, 0, Optional.empty()));
      }
      RampChoice choice = ramp.next(k * interval);
      double slow = LapseTrial.WISH.exposure(new Ev(light.light()[k * interval])).value();
      double off = choice.exposure().ev().value() - slow;
      if (k * interval >= from) {
        largest = Math.max(largest, Math.abs(off));
        int now = off > OFF ? 1 : off < -OFF ? -1 : side;
        crossings += side != 0 && now != side ? 1 : 0;
        side = now;
      }
      ramp = ramp.afterChosen(choice);
    }
    return new AfterCloud(largest, crossings);
  }

  /**
   * The disc clears the ridge: from one frame to the next a part of the picture glows, so much that
   * it takes 0.5 to 1.7 stops (by seed) to bring what clips within the wish.
   *
   * @return how many frames clip beyond the wish
   */
  static int disc(LapseLight light, int interval, int seed) {
    double spread = 1.2;
    double glow = 0.005 * Math.pow(2, (0.5 + 1.2 * seed / 19.0) / spread);
    int appears = light.seconds() * 2 / 3;
    int beyond = 0;
    double[] exposures = new double[light.seconds() / interval];
    Ramp ramp = ramp(interval, new Ev(light.light()[0]));
    for (int k = 0; k < exposures.length; k++) {
      if (k >= DELAY) {
        int t = (k - DELAY) * interval;
        double scene = light.light()[t];
        double darker = exposures[k - DELAY] - LapseTrial.WISH.exposure(new Ev(scene)).value();
        double share = t < appears ? 0 : glow * Math.pow(2, -darker / spread);
        boolean clips = share > LapseTrial.WISH.mostClipped().value();
        beyond += clips ? 1 : 0;
        Optional<Stops> headroom =
            clips || share == 0
                ? Optional.empty()
                : Optional.of(new Stops(spread * Math.log(0.005 / share) / Math.log(2)));
        ramp = ramp.after(sighting(t, exposures[k - DELAY], scene, Math.min(1, share), headroom));
      }
      RampChoice choice = ramp.next(k * interval);
      exposures[k] = choice.exposure().ev().value();
      ramp = ramp.afterChosen(choice);
    }
    return beyond;
  }

  private static Sighting sighting(
      double seconds, double exposure, double scene, double clipped, Optional<Stops> headroom) {
    return new Sighting(seconds, new Ev(exposure), new Ev(scene), new Share(clipped), headroom);
  }

  private static Ramp ramp(int interval, Ev start) {
    Aperture aperture = Aperture.ofNominal(2.8);
    Iso highest = Iso.ofNominal(102_400);
    ShutterLadder times =
        new ShutterLadder(
            new Shutter(0.000125), new Shutter(0.7 * interval), LapseBench.TIMER_SECONDS);
    Latitude latitude =
        Latitude.of(
            new CameraRange(times, new Iso(100), highest, aperture, aperture),
            PictureLimits.at(aperture).withHighestIso(highest));
    return Ramp.start(new RampSetup(latitude, LapseTrial.WISH, interval, start, Optional.empty()));
  }
}
