package org.scenespan.session;

import java.time.Duration;
import java.util.Optional;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Exposure;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.BracketPlan;
import org.scenespan.plan.Known;

/**
 * All that a bracket is started with; with the inputs it decides the whole session.
 *
 * @param session the session's name
 * @param program the program's version
 * @param gear the parts that it runs on
 * @param goal what has to be reached
 * @param camera what can be set
 * @param picture what the picture allows
 * @param noise the sensor
 * @param start the photographer's first exposure; without one the trigger's meter is asked
 * @param known what is known of the scene beforehand; without a meter reading
 * @param patience how long things may take
 */
public record BracketSetup(
    String session,
    String program,
    Gear gear,
    BracketGoal goal,
    CameraRange camera,
    PictureLimits picture,
    NoiseModel noise,
    Optional<Exposure> start,
    Known known,
    Patience patience) {
  public BracketSetup {
    Latitude latitude = Latitude.of(camera, picture);
    if (start.isPresent() && !latitude.canReach(start.get().ev())) {
      throw new IllegalArgumentException(
          "the start exposure (" + start.get() + ") is outside of the limits, " + latitude);
    }
  }

  /** Whether the first exposure hangs on the trigger's meter. */
  boolean needsMeter() {
    return start.isEmpty() && known.earlier().isEmpty();
  }

  public Latitude latitude() {
    return Latitude.of(camera, picture);
  }

  public BracketPlan plan() {
    return new BracketPlan(goal, latitude(), noise);
  }

  /**
   * How long things may take, and how often they are tried.
   *
   * @param answer the longest that a trigger takes to answer, beyond the exposure itself
   * @param frame the longest from the end of an exposure to its whole file in the folder
   * @param outage how long a lost trigger or folder is waited for
   * @param retakes how often in a row a lost shot is taken again, 0 to 20
   */
  public record Patience(Duration answer, Duration frame, Duration outage, int retakes) {
    public static final Patience USUAL =
        new Patience(Duration.ofSeconds(15), Duration.ofSeconds(10), Duration.ofSeconds(90), 3);

    public Patience {
      requirePositive("answer", answer);
      requirePositive("frame", frame);
      requirePositive("outage", outage);
      if (!(retakes >= 0 && retakes <= 20)) {
        throw new IllegalArgumentException("retakes (" + retakes + ") must be 0 to 20");
      }
    }

    private static void requirePositive(String name, Duration time) {
      if (time.isNegative() || time.isZero() || time.compareTo(Duration.ofHours(1)) > 0) {
        throw new IllegalArgumentException(
            name + " time-out (" + time + ") must be above 0 and at most an hour");
      }
    }
  }
}
