package org.scenespan.session;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.FrameChange;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.Reach;
import org.scenespan.light.Stops;
import org.scenespan.plan.Evidence;

/**
 * What a bracket's frames show of one another: how the scene's light went from the first to each,
 * and what has moved.
 *
 * <p>The ratio of two frames, less the difference of their exposures, is the change of the light
 * and two shutters' errors. Summed from frame to frame the errors cancel but for those of the first
 * and of the last, within 0.1 stop each, while a change of light stays in the sum: more than 0.25
 * stop is light.
 */
final class FramePairs {
  /** Two shutters off by 0.1 stop in opposite ways, and a little. */
  static final double SHUTTERS_STOPS = 0.25;

  /** A change is told again when it has grown by this. */
  private static final double TELLING_STOPS = 0.15;

  /** Equal exposures compare equal codes, which no response can distort. */
  private static final double SAME_STOPS = 0.01;

  /** Less of the picture that differs is not called movement. */
  private static final double LEAST_MOVED = 0.0005;

  private final List<Event.FrameAccepted> frames;
  private final List<Double> light = new ArrayList<>();

  FramePairs(List<Event.FrameAccepted> frames) {
    this.frames = frames;
    for (int i = 0; i < frames.size(); i++) {
      light.add(lightAt(i));
    }
  }

  private double lightAt(int index) {
    if (index == 0) {
      return 0;
    }
    FrameReading reading = frames.get(index).frame();
    for (int before = index - 1; before >= 0; before--) {
      Event.FrameAccepted earlier = frames.get(before);
      Optional<FrameChange> change = reading.changeFrom(earlier.frame().file());
      double expected = earlier.exposure().ev().minus(frames.get(index).exposure().ev()).value();
      if (change.isPresent()
          && (tellsLight(reading) && tellsLight(earlier.frame())
              || Math.abs(expected) < SAME_STOPS)) {
        return light.get(before) + change.get().ratio().value() - expected;
      }
    }
    return light.get(index - 1);
  }

  /** Whether its codes are taken for light by what was measured, not by a guess. */
  private static boolean tellsLight(FrameReading reading) {
    return reading.measure().source() == FrameSource.RAW || reading.isByMeasuredResponse();
  }

  /** By how much the light has changed from the first frame to the last, beyond any shutter. */
  Optional<Stops> drift() {
    double whole = light.isEmpty() ? 0 : light.get(light.size() - 1);
    return Math.abs(whole) > SHUTTERS_STOPS ? Optional.of(new Stops(whole)) : Optional.empty();
  }

  /**
   * Records the change of the light that the newest frame or its raw file shows; nothing where it
   * was told before.
   *
   * @param before the frames as they were before it
   */
  static void tellDrift(Turn turn, List<Event.FrameAccepted> before) {
    new FramePairs(turn.state().frames())
        .driftToTell(new FramePairs(before))
        .ifPresent(now -> turn.record(new Event.LightDrifted(now, Accounts.driftWords(now))));
  }

  /** The change to be told, given what the frames showed before. */
  Optional<Stops> driftToTell(FramePairs before) {
    Optional<Stops> told = before.drift();
    return drift()
        .filter(now -> told.isEmpty() || Math.abs(now.minus(told.get()).value()) >= TELLING_STOPS);
  }

  /** The frames as they count in the light of the last one. */
  List<Evidence> evidence() {
    boolean changed = drift().isPresent();
    List<Evidence> all = new ArrayList<>();
    for (int i = 0; i < frames.size(); i++) {
      Event.FrameAccepted frame = frames.get(i);
      double since = changed ? light.get(light.size() - 1) - light.get(i) : 0;
      Evidence evidence =
          Evidence.of(frame.exposure(), frame.frame().measure())
              .in(new Stops(since), Optional.empty());
      all.add(
          evidence.in(
              new Stops(since),
              moved(i)
                  .flatMap(FrameChange::movedLevels)
                  .map(
                      levels ->
                          new Reach(
                              evidence.sceneEv(levels.low()), evidence.sceneEv(levels.high())))));
    }
    return all;
  }

  /** What moved between an accepted frame and the latest accepted one that it was set against. */
  private Optional<FrameChange> moved(int index) {
    for (int before = index - 1; before >= 0; before--) {
      Optional<FrameChange> change =
          frames.get(index).frame().changeFrom(frames.get(before).frame().file());
      if (change.isPresent()) {
        return change.filter(it -> it.moved().value() > LEAST_MOVED);
      }
    }
    return Optional.empty();
  }
}
