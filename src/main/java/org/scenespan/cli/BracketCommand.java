package org.scenespan.cli;

import java.io.IOException;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.scenespan.control.OpenedSession;
import org.scenespan.light.Aperture;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.PictureLimits;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Known;
import org.scenespan.session.Gear;
import org.scenespan.session.Patience;
import org.scenespan.trigger.Profile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Covers a scene. */
@Command(
    name = "bracket",
    mixinStandardHelpOptions = true,
    description =
        "Cover a scene: take frames until every part of it is neither clipped nor below the asked"
            + " signal-to-noise in one of them, within the limits that the picture sets.",
    sortOptions = false,
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan bracket --simulate ridge --json",
      "  scenespan bracket --trigger reference-trigger --port /dev/ttyUSB0 --folder frames"
          + " --aperture f/11 --longest 1s --start 1/125",
      "  scenespan bracket --trigger release-only --simulate window --frames-per-release 5",
      "  scenespan bracket --by-hand --folder frames --aperture f/11"
    })
final class BracketCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;
  @Mixin private Output output;
  @Mixin private PartsOptions parts;
  @Mixin private PageOption page;
  @Mixin private WishOptions wishes;
  @Mixin private GoalOptions held;
  @Mixin private CameraOptions camera;
  @Mixin private HandOptions hand;
  @Mixin private PlanFileOption plan;
  @Mixin private RehearsalOptions simulated;

  @Option(
      names = "--camera",
      paramLabel = "PROFILE",
      description =
          "The camera's own response, noise and lag, from scenespan calibrate: a profile's name, or"
              + " a .json file. Default: a margin is kept for what its JPEGs hide.")
  private String cameraProfile;

  @Option(
      names = "--start",
      paramLabel = "SHUTTER",
      converter = Values.ShutterValue.class,
      description =
          "The first shutter, at the lowest ISO. Default: by the meter and what is known.")
  private Shutter start;

  @Option(
      names = "--aperture",
      paramLabel = "F",
      converter = Values.ApertureValue.class,
      description =
          "The aperture, fixed for the depth of field. Default: f/8, or where the trigger cannot"
              + " set it, the one that its profile says is set by hand.")
  private Aperture aperture;

  @Mixin private IsoOption iso;

  @Option(
      names = "--longest",
      paramLabel = "SHUTTER",
      converter = Values.ShutterValue.class,
      description = "The longest shutter that motion in the picture allows.")
  private Shutter longest;

  @Option(
      names = "--shortest",
      paramLabel = "SHUTTER",
      converter = Values.ShutterValue.class,
      description = "The shortest shutter that the picture allows.")
  private Shutter shortest;

  @Option(
      names = "--highest-iso",
      paramLabel = "ISO",
      converter = Values.IsoValue.class,
      description = "How far ISO may be raised where the longest shutter binds. Default: not.")
  private Iso highestIso;

  @Option(
      names = "--max-frames",
      paramLabel = "N",
      defaultValue = "12",
      description = "The most frames, 1 to 99 (${DEFAULT-VALUE}).")
  private int maxFrames;

  @Option(
      names = "--overlap",
      paramLabel = "STOPS",
      defaultValue = "0.15",
      converter = Values.StopsValue.class,
      description = "By how much neighbouring frames overlap (${DEFAULT-VALUE}).")
  private Stops overlap;

  @Option(
      names = "--frame-timeout",
      paramLabel = "TIME",
      defaultValue = "10s",
      converter = Values.DurationValue.class,
      description =
          "The longest from the end of an exposure to its file in the folder (${DEFAULT-VALUE}).")
  private Duration frameTimeout;

  @Option(
      names = "--retakes",
      paramLabel = "N",
      defaultValue = "3",
      description = "How often in a row a lost shot is taken again (${DEFAULT-VALUE}).")
  private int retakes;

  @Override
  public Integer call() throws IOException, InterruptedException {
    plan.fillIn();
    Optional<Profile> profile = hand.wanted() ? Optional.empty() : Optional.of(profile());
    if (hand.wanted() && aperture == null) {
      aperture = Aperture.ofNominal(8);
    }
    CameraRange range = iso.range(profile);
    Gear gear = profile.map(this::gear).orElseGet(this::gearByHand);
    PictureLimits picture =
        new PictureLimits(
            aperture,
            Optional.ofNullable(shortest),
            Optional.ofNullable(longest),
            Optional.ofNullable(highestIso));
    BracketGoal goal =
        new BracketGoal(
            held.snr(),
            held.clipTolerance(),
            held.shadowTolerance(),
            overlap,
            maxFrames,
            wishes.intent());
    Known known = wishes.known(places.sessions());
    boolean own = gear.own().isPresent();
    Optional<Exposure> first = own ? Optional.empty() : plan.first(start, aperture, range);
    if (own) {
      camera.checkOwn(profile.get(), start != null, iso.given().isPresent(), goal);
    }
    if (!own
        && first.isEmpty()
        && known.earlier().isEmpty()
        && profile.isPresent()
        && profile.get().meter().isEmpty()) {
      throw new IllegalArgumentException(
          "trigger \""
              + profile.get().name()
              + "\" has no meter; give the first shutter with --start");
    }
    Patience patience =
        new Patience(Patience.USUAL.answer(), frameTimeout, Patience.USUAL.outage(), retakes);
    NewBracket bracket =
        new NewBracket(
            simulated.label().orElse("bracket"),
            profile,
            range,
            gear,
            goal,
            picture,
            first,
            known,
            patience,
            Optional.ofNullable(cameraProfile).map(places.cameraProfiles()::load));
    try (OpenedSession session = bracket.open(places.sessions())) {
      return new SessionRunner(spec, output.json())
          .run(session, page, simulated.inRealTime(), false);
    }
  }

  /** The trigger's profile with what is set by hand, which also settles the aperture. */
  private Profile profile() {
    Profile loaded = parts.profile(places);
    iso.check(loaded);
    if (aperture == null) {
      aperture = loaded.isApertureByHand() ? loaded.cameraRange().widest() : Aperture.ofNominal(8);
    }
    return loaded.byHand(iso.given(), Optional.of(aperture));
  }

  private Gear gear(Profile profile) {
    Optional<Gear.Rehearsal> rehearsal = simulated.rehearsal();
    if (rehearsal.isPresent()) {
      return camera.gear(profile, parts.trigger(), "", parts.simulated(), rehearsal);
    }
    String folder =
        parts.real(
            "--folder and --by-hand without a trigger, or --simulate SCENE for simulated ones");
    return camera.gear(profile, parts.trigger(), parts.port(), folder, Optional.empty());
  }

  private Gear gearByHand() {
    return camera.gear(parts.byHand(simulated.wanted()), hand.hand());
  }
}
