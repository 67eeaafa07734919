package org.scenespan.session;

import java.time.Duration;
import java.util.Optional;
import org.scenespan.plan.guard.Levels;

/**
 * All that a tether is started with.
 *
 * @param session the session's name
 * @param program the program's version
 * @param gear the parts that it runs on; without a trigger, its name is empty
 * @param levels from where on a deviation is told
 * @param firstIsReference whether the first frame becomes the reference frame by itself
 * @param mostFrames after how many frames it ends; 0 for no such end
 * @param longest after what time it ends; absent for no such end
 * @param patience how long things may take
 */
public record TetherSetup(
    String session,
    String program,
    Gear gear,
    Levels levels,
    boolean firstIsReference,
    int mostFrames,
    Optional<Duration> longest,
    Patience patience)
    implements Setup {
  /** More frames are another session's. */
  public static final int MOST_FRAMES = 20_000;

  public TetherSetup {
    if (!(mostFrames >= 0 && mostFrames <= MOST_FRAMES)) {
      throw new IllegalArgumentException("frames (" + mostFrames + ") must be 0 to " + MOST_FRAMES);
    }
    if (longest.isPresent() && (longest.get().isNegative() || longest.get().isZero())) {
      throw new IllegalArgumentException("the time (" + longest.get() + ") must be above 0");
    }
  }

  @Override
  public String kind() {
    return "tether";
  }

  @Override
  public void check() {
    // Every part was checked as it was made.
  }

  /** How many frames end the session. */
  int lastFrame() {
    return mostFrames == 0 ? MOST_FRAMES : mostFrames;
  }

  boolean hasTrigger() {
    return !gear.trigger().isEmpty();
  }
}
