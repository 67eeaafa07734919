package org.scenespan.plan.ramp;

import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Latitude;
import org.scenespan.light.Rounding;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;

/**
 * Turns a wanted EV into shutter and ISO: the shutter to its longest first, then ISO, and back the
 * other way; the aperture never moves. A change back against the light must be worth more than a
 * change along with it, so that no setting toggles.
 *
 * @param latitude what can be set
 */
record Gearing(Latitude latitude) {
  /** How far beyond half a step the wanted EV must lie to go against the light, or without it. */
  private static final double AGAINST_STOPS = 0.1;

  /** Slower light than this says nothing about the direction, stops a second. */
  private static final double STILL = 0.03 / 60;

  /** How far below the longest shutter a raised ISO is kept, beyond its own third. */
  private static final double ISO_KEPT_STOPS = 0.15;

  private double step() {
    return latitude.camera().shutters().stepSeconds();
  }

  /**
   * @param last the frame before's, if there was one
   * @param rate how fast the wanted EV goes, stops a second
   */
  Exposure at(Ev wanted, Optional<Exposure> last, double rate) {
    return step() > 0 ? timed(wanted, last) : clicked(wanted, last, rate);
  }

  private Exposure clicked(Ev wanted, Optional<Exposure> last, double rate) {
    Exposure nearest = latitude.at(wanted, Rounding.NEAREST);
    if (last.isEmpty() || latitude.at(last.get().ev(), Rounding.NEAREST).equals(nearest)) {
      return nearest;
    }
    double change = nearest.ev().minus(last.get().ev()).value();
    double off = wanted.minus(last.get().ev()).value();
    boolean along = Math.abs(rate) > STILL && change * rate > 0;
    double worth = Stops.THIRD.value() / 2 + (along ? 0 : AGAINST_STOPS);
    return Math.abs(off) >= worth ? nearest : last.get();
  }

  /**
   * A device that times by itself meets any EV: where ISO is raised, the shutter fills the third.
   */
  private Exposure timed(Ev wanted, Optional<Exposure> last) {
    Exposure longest = latitude.at(wanted, Rounding.BRIGHTER);
    Iso iso = longest.iso();
    if (last.isPresent() && last.get().iso().compareTo(iso) > 0) {
      Exposure kept = latitude.brightest().withIso(last.get().iso());
      double shorter = wanted.minus(kept.ev()).value();
      if (shorter <= Stops.THIRD.value() + ISO_KEPT_STOPS) {
        iso = last.get().iso();
      }
    }
    Exposure full = latitude.brightest().withIso(iso);
    double seconds = full.shutter().seconds() / wanted.minus(full.ev()).ratio();
    ShutterLadder times =
        new ShutterLadder(latitude.darkest().shutter(), latitude.brightest().shutter(), step());
    return full.withShutter(times.at(seconds, Rounding.NEAREST));
  }
}
