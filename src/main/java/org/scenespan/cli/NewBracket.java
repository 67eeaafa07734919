package org.scenespan.cli;

import java.io.IOException;
import java.time.Duration;
import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.control.OpenedSession;
import org.scenespan.frame.CameraLag;
import org.scenespan.frame.CameraProfile;
import org.scenespan.frame.NoiseModel;
import org.scenespan.journal.Sessions;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Exposure;
import org.scenespan.light.PictureLimits;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.JpegMargin;
import org.scenespan.plan.Known;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Gear;
import org.scenespan.session.Patience;
import org.scenespan.trigger.Profile;

/**
 * A bracket that is about to be opened.
 *
 * @param label a short name of the scene, for the session's directory
 * @param profile the trigger's; absent by hand
 * @param range what can be set
 */
record NewBracket(
    String label,
    Optional<Profile> profile,
    CameraRange range,
    Gear gear,
    BracketGoal goal,
    PictureLimits picture,
    Optional<Exposure> start,
    Known known,
    Patience patience,
    Optional<CameraProfile> camera) {
  static final DateTimeFormatter STAMP =
      DateTimeFormatter.ofPattern("uuuuMMdd-HHmmss", Locale.ROOT);

  OpenedSession open(Sessions sessions) throws IOException {
    return OpenedSession.fresh(
        sessions, LocalDateTime.now().format(STAMP) + "-" + label, profile, camera, this::setup);
  }

  private BracketSetup setup(String name) {
    return new BracketSetup(
        name,
        Main.Version.text(),
        gear,
        goal,
        range,
        picture,
        margin().map(kept -> kept.of(sensor())).orElse(sensor()),
        start,
        known,
        camera.flatMap(CameraProfile::lag).map(this::patient).orElse(patience),
        margin());
  }

  /** Of a camera that needs long for its files, three times that is waited for. */
  private Patience patient(CameraLag lag) {
    return patience.atLeastForFrames(Duration.ofMillis(Math.round(3000 * lag.slowest())));
  }

  private NoiseModel sensor() {
    return camera.flatMap(CameraProfile::sensor).orElse(NoiseModel.TYPICAL);
  }

  /** Of JPEGs only: raw files are the sensor's own. */
  private Optional<JpegMargin> margin() {
    return gear.raw()
        ? Optional.empty()
        : Optional.of(camera.map(JpegMargin::of).orElse(JpegMargin.UNMEASURED));
  }
}
