package org.scenespan.session;

import java.util.Optional;
import org.scenespan.frame.NoiseModel;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Exposure;
import org.scenespan.light.Latitude;
import org.scenespan.light.PictureLimits;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.BracketPlan;
import org.scenespan.plan.JpegMargin;
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
 * @param margin what a JPEG is taken to hold less than the sensor; it is in the noise model already
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
    Patience patience,
    Optional<JpegMargin> margin)
    implements Setup {
  public BracketSetup {
    Latitude latitude = Latitude.of(camera, picture);
    if (start.isPresent() && !latitude.canReach(start.get().ev())) {
      throw new IllegalArgumentException(
          "the start exposure (" + start.get() + ") is outside of the limits, " + latitude);
    }
  }

  /** A setup without a margin. */
  public BracketSetup(
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
    this(
        session,
        program,
        gear,
        goal,
        camera,
        picture,
        noise,
        start,
        known,
        patience,
        Optional.empty());
  }

  /** Whether the first exposure hangs on the trigger's meter. */
  boolean needsMeter() {
    return start.isEmpty()
        && known.earlier().isEmpty()
        && gear.own().isEmpty()
        && gear.hand().isEmpty();
  }

  public Latitude latitude() {
    return Latitude.of(camera, picture);
  }

  @Override
  public String kind() {
    return "bracket";
  }

  @Override
  public void check() {
    plan();
  }

  public BracketPlan plan() {
    BracketPlan plan = new BracketPlan(goal, latitude(), noise);
    return gear.raw() && !gear.jpegFirst() ? plan : plan.forEightBits();
  }
}
