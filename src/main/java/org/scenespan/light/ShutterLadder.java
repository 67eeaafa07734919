package org.scenespan.light;

import java.util.List;

/**
 * The times that a device can set, from the shortest to the longest.
 *
 * @param shortest the shortest time
 * @param longest the longest time
 * @param stepSeconds the resolution of a device that times by itself, in seconds; 0 for a camera
 *     that knows only the third-stop series
 */
public record ShutterLadder(Shutter shortest, Shutter longest, double stepSeconds) {
  /** Times closer than this are the same: a millionth. */
  private static final double SAME = 1e-6;

  public ShutterLadder {
    if (shortest.compareTo(longest) > 0) {
      throw new IllegalArgumentException(
          "shortest shutter (" + shortest + ") must not be longer than the longest, " + longest);
    }
    if (!(stepSeconds >= 0 && stepSeconds < longest.seconds())) {
      throw new IllegalArgumentException(
          "resolution (" + stepSeconds + " s) must be 0 or more and less than the longest shutter");
    }
    if (stepSeconds == 0 && Shutter.thirds(shortest, longest).isEmpty()) {
      throw new IllegalArgumentException(
          "no third-stop time lies from " + shortest + " to " + longest);
    }
  }

  /** The third-stop series between two times. */
  public static ShutterLadder thirds(Shutter shortest, Shutter longest) {
    return new ShutterLadder(shortest, longest, 0);
  }

  /** The shortest time that can really be set. */
  public Shutter first() {
    return at(shortest.seconds(), Rounding.BRIGHTER);
  }

  /** The longest time that can really be set. */
  public Shutter last() {
    return at(longest.seconds(), Rounding.DARKER);
  }

  /**
   * The settable time that stands for a wished one; beyond an end of the ladder, that end.
   *
   * @param seconds the wished time, above 0
   */
  public Shutter at(double seconds, Rounding rounding) {
    if (!(seconds > 0)) {
      throw new IllegalArgumentException("shutter (" + seconds + " s) must be above 0");
    }
    return stepSeconds == 0 ? thirdAt(seconds, rounding) : multipleAt(seconds, rounding);
  }

  private Shutter thirdAt(double seconds, Rounding rounding) {
    List<Shutter> steps = Shutter.thirds(shortest, longest);
    Shutter below = steps.get(0);
    for (Shutter step : steps) {
      if (step.seconds() <= seconds * (1 + SAME)) {
        below = step;
      }
    }
    Shutter above = steps.get(steps.size() - 1);
    for (int i = steps.size() - 1; i >= 0; i--) {
      if (steps.get(i).seconds() >= seconds * (1 - SAME)) {
        above = steps.get(i);
      }
    }
    return choose(below, above, seconds, rounding);
  }

  private Shutter multipleAt(double seconds, Rounding rounding) {
    double low = Math.ceil(shortest.seconds() / stepSeconds - SAME);
    double high = Math.floor(longest.seconds() / stepSeconds + SAME);
    double floor = Math.floor(seconds / stepSeconds + SAME);
    double ceiling = Math.ceil(seconds / stepSeconds - SAME);
    double below = Math.min(high, Math.max(low, Math.max(1, floor)));
    double above = Math.min(high, Math.max(low, Math.max(1, ceiling)));
    return choose(
        new Shutter(below * stepSeconds), new Shutter(above * stepSeconds), seconds, rounding);
  }

  private static Shutter choose(Shutter below, Shutter above, double seconds, Rounding rounding) {
    return switch (rounding) {
      case DARKER -> below;
      case BRIGHTER -> above;
      case NEAREST -> seconds / below.seconds() <= above.seconds() / seconds ? below : above;
    };
  }
}
