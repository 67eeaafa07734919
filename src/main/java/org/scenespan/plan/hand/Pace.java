package org.scenespan.plan.hand;

import java.time.Duration;
import org.scenespan.light.Stops;

/**
 * When a hand is asked to turn a dial while the light goes on changing: seldom, and for nothing
 * that the evening gain takes out anyway.
 *
 * @param clicksAStop of the camera's dials
 * @param interval from one frame to the next
 */
public record Pace(int clicksAStop, Duration interval) {
  /** Beyond half a click, so that it is not turned back and forth, stops [practice]. */
  private static final double HYSTERESIS_STOPS = 0.1;

  /** Nobody wants to be called more often [practice]. */
  private static final Duration LEAST_PAUSE = Duration.ofSeconds(30);

  /** A dial is turned between two frames, and the next ones show what came of it. */
  private static final int LEAST_FRAMES = 3;

  /** So far off it cannot wait, stops. */
  private static final double URGENT_STOPS = 1;

  /** How long the dials are left alone at least. */
  public Duration pause() {
    Duration frames = interval.multipliedBy(LEAST_FRAMES);
    return frames.compareTo(LEAST_PAUSE) > 0 ? frames : LEAST_PAUSE;
  }

  /**
   * @param error by how much the next frame would come out too bright or too dark
   * @param since the last instruction
   */
  public boolean isDue(Stops error, Duration since) {
    double off = Math.abs(error.value());
    Duration pause = off >= URGENT_STOPS ? interval.multipliedBy(2) : pause();
    return off >= 0.5 / clicksAStop + HYSTERESIS_STOPS && since.compareTo(pause) >= 0;
  }

  /** The whole clicks that make up for an error; brighter above 0. */
  public int clicks(Stops tooBright) {
    return (int) Math.rint(-tooBright.value() * clicksAStop);
  }
}
