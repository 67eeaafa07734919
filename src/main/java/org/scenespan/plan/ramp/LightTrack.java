package org.scenespan.plan.ramp;

import org.scenespan.light.Ev;

/**
 * The slow light of the scene as the frames so far tell it: level and slope by an α–β tracker, with
 * a gate for what is faster than dawn. Immutable.
 */
final class LightTrack {
  private static final double ALPHA = 0.2;
  private static final double BETA = ALPHA * ALPHA / (2 - ALPHA);
  private static final double GATE_STOPS = 0.3;
  private static final double FASTEST_PER_SECOND = 0.65 / 60;
  private static final int LASTING = 12;

  private final double at;
  private final double level;
  private final double slope;
  private final int outside;
  private final boolean seen;

  private LightTrack(double at, double level, double slope, int outside, boolean seen) {
    this.at = at;
    this.level = level;
    this.slope = slope;
    this.outside = outside;
    this.seen = seen;
  }

  static LightTrack start(Ev believed) {
    return new LightTrack(0, believed.value(), 0, 0, false);
  }

  LightTrack after(double seconds, double value) {
    if (!seen) {
      return new LightTrack(seconds, value, 0, 0, true);
    }
    double step = seconds - at;
    if (step <= 0) {
      return this;
    }
    double predicted = level + slope * step;
    double off = value - predicted;
    if (Math.abs(off) > GATE_STOPS && outside < LASTING) {
      return new LightTrack(seconds, predicted, slope, outside + 1, true);
    }
    if (outside >= LASTING) {
      return new LightTrack(seconds, value, slope, 0, true);
    }
    double turned = slope + BETA * off / step;
    return new LightTrack(
        seconds,
        predicted + ALPHA * off,
        Math.max(-FASTEST_PER_SECOND, Math.min(FASTEST_PER_SECOND, turned)),
        0,
        true);
  }

  double at(double seconds) {
    return level + slope * (seconds - at);
  }
}
