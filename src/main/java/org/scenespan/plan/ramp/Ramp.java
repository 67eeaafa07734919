package org.scenespan.plan.ramp;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Stops;

/**
 * A lapse's exposure from frame to frame: a fold over what the frames told and what was chosen, so
 * that it can be built anew from a journal. Each step costs the same. Immutable.
 */
public final class Ramp {
  /** Longer without a frame than so many intervals is told. */
  private static final int BLIND_INTERVALS = 5;

  /** What is worth a word, stops. */
  private static final double WORTH_A_WORD = 0.1;

  private final RampSetup setup;
  private final LightTrack track;
  private final Highlights highlights;
  private final Opening opening;
  private final Optional<Exposure> last;

  private Ramp(
      RampSetup setup,
      LightTrack track,
      Highlights highlights,
      Opening opening,
      Optional<Exposure> last) {
    this.setup = setup;
    this.track = track;
    this.highlights = highlights;
    this.opening = opening;
    this.last = last;
  }

  public static Ramp start(RampSetup setup) {
    return new Ramp(setup, unseen(setup), Highlights.none(), Opening.NONE, Optional.empty());
  }

  private static LightTrack unseen(RampSetup setup) {
    return LightTrack.start(setup.start(), setup.forecast().orElse(null));
  }

  public RampSetup setup() {
    return setup;
  }

  /** Takes in what a frame told. A frame earlier than one that was taken in tells nothing new. */
  public Ramp after(Sighting sighting) {
    LightTrack known =
        opening.wasReadTooDark(sighting, setup.wish().mostClipped()) ? unseen(setup) : track;
    return new Ramp(
        setup,
        known.after(sighting.seconds(), sighting.scene().value()),
        highlights.after(sighting, setup.wish().mostClipped()),
        opening.after(sighting),
        last);
  }

  /** Takes in that an exposure was chosen, whether or not its frame will ever be read. */
  public Ramp afterChosen(RampChoice choice) {
    return new Ramp(setup, track, highlights, opening, Optional.of(choice.exposure()));
  }

  /** What the frame that is due then is taken with. */
  public RampChoice next(double dueSeconds) {
    return next(dueSeconds, Optional.empty());
  }

  /** What is wanted of a frame whose exposure is set by someone else. */
  public RampChoice next(double dueSeconds, Exposure set) {
    return next(dueSeconds, Optional.of(set));
  }

  private RampChoice next(double dueSeconds, Optional<Exposure> set) {
    Ev forecast = new Ev(track.at(dueSeconds));
    double rate = track.rate(dueSeconds);
    double asked = setup.wish().exposure(forecast).value();
    OptionalDouble limit = highlights.at(dueSeconds, rate);
    double held =
        limit.isPresent()
            ? Math.max(0, Math.min(setup.wish().mostHeld().value(), limit.getAsDouble() - asked))
            : 0;
    Ev wanted = new Ev(asked + held);
    Exposure exposure = set.orElseGet(() -> new Gearing(setup.latitude()).at(wanted, last, rate));
    return new RampChoice(
        dueSeconds,
        exposure,
        forecast.minus(wanted),
        forecast,
        wanted,
        why(dueSeconds, rate, forecast, wanted, held)
            + (set.isEmpty() ? missing(wanted.minus(exposure.ev()).value()) : ""));
  }

  /**
   * What will be chosen one after the other if the light goes on as it is expected to.
   *
   * @param dueSeconds when frames are due, ascending
   */
  public List<RampChoice> ahead(double[] dueSeconds) {
    List<RampChoice> coming = new ArrayList<>();
    Ramp ramp = this;
    for (double due : dueSeconds) {
      RampChoice choice = ramp.next(due);
      coming.add(choice);
      ramp = ramp.afterChosen(choice);
    }
    return coming;
  }

  private String why(double due, double rate, Ev forecast, Ev wanted, double held) {
    StringBuilder why = new StringBuilder();
    double blind = track.blindSeconds(due);
    if (!track.isSeen()) {
      why.append("No frame is read yet; the scene is taken to stand at ").append(forecast);
    } else {
      if (blind > BLIND_INTERVALS * setup.intervalSeconds()) {
        add(why, "No frame is read for %.0f s; the light is taken to go on as it did. ", blind);
      }
      why.append("The scene is expected at ").append(forecast);
      add(why, ", %s", course(rate * 60));
    }
    add(why, "; the picture is wished %s against mid grey.", forecast.minus(wanted));
    if (held > WORTH_A_WORD) {
      add(why, " %.1f stops of that are held back for the highlights.", held);
    }
    if (Math.abs(track.departure()) > WORTH_A_WORD) {
      add(
          why,
          " The last frame stands %s stops off the slow light, as by a cloud or a lamp; that is not"
              + " followed unless it lasts.",
          new Stops(track.departure()));
    }
    return why.toString();
  }

  private static String missing(double stops) {
    return Math.abs(stops) <= Stops.THIRD.value()
        ? ""
        : String.format(
            Locale.ROOT,
            " The limits leave it %.1f stops too %s.",
            Math.abs(stops),
            stops < 0 ? "dark" : "bright");
  }

  private static String course(double perMinute) {
    return Math.abs(perMinute) < 0.01
        ? "steady"
        : String.format(
            Locale.ROOT,
            "%s by %.2f stops a minute",
            perMinute > 0 ? "rising" : "falling",
            Math.abs(perMinute));
  }

  private static void add(StringBuilder text, String format, Object... values) {
    text.append(String.format(Locale.ROOT, format, values));
  }
}
