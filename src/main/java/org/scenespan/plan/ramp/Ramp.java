package org.scenespan.plan.ramp;

import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Rounding;
import org.scenespan.light.Stops;

/**
 * A lapse's exposure from frame to frame: a fold over what the frames told and what was chosen, so
 * that it can be built anew from a journal. Each step costs the same. Immutable.
 */
public final class Ramp {
  /** A change of setting must be worth this much beyond half a step, or a picture toggles. */
  private static final double HYSTERESIS_STOPS = 0.05;

  private final RampSetup setup;
  private final LightTrack track;
  private final Optional<Exposure> last;

  private Ramp(RampSetup setup, LightTrack track, Optional<Exposure> last) {
    this.setup = setup;
    this.track = track;
    this.last = last;
  }

  public static Ramp start(RampSetup setup) {
    return new Ramp(setup, LightTrack.start(setup.start()), Optional.empty());
  }

  public RampSetup setup() {
    return setup;
  }

  /** Takes in what a frame told; frames may come late, in any order, or never. */
  public Ramp after(Sighting sighting) {
    return new Ramp(setup, track.after(sighting.seconds(), sighting.scene().value()), last);
  }

  /** Takes in that an exposure was chosen, whether or not its frame will ever be read. */
  public Ramp afterChosen(RampChoice choice) {
    return new Ramp(setup, track, Optional.of(choice.exposure()));
  }

  /** What the frame that is due then is taken with. */
  public RampChoice next(double dueSeconds) {
    Ev forecast = new Ev(track.at(dueSeconds));
    Stops wish = setup.wish().at(forecast);
    Ev wanted = forecast.minus(wish);
    Exposure exposure = setup.latitude().at(wanted, Rounding.NEAREST);
    if (last.isPresent()) {
      double off = Math.abs(wanted.minus(last.get().ev()).value());
      if (off < Stops.THIRD.value() / 2 + HYSTERESIS_STOPS
          && setup.latitude().camera().shutters().stepSeconds() == 0) {
        exposure = last.get();
      }
    }
    return new RampChoice(
        dueSeconds,
        exposure,
        wish,
        forecast,
        wanted,
        String.format(
            Locale.ROOT,
            "The scene is expected at %s, the picture wished %s stops against mid grey.",
            forecast,
            wish));
  }
}
