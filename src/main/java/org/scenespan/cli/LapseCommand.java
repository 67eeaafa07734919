package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.scenespan.control.OpenedSession;
import org.scenespan.frame.Region;
import org.scenespan.light.CameraRange;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.PictureLimits;
import org.scenespan.plan.ramp.Wish;
import org.scenespan.session.Gear;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.Patience;
import org.scenespan.session.RigCheck;
import org.scenespan.sky.ClearSky;
import org.scenespan.sky.Sun;
import org.scenespan.trigger.Profile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Runs a lapse. */
@Command(
    name = "lapse",
    mixinStandardHelpOptions = true,
    description =
        "Take a frame at each interval and let the exposure follow the light, through a sunrise or"
            + " a sunset, for hours: night stays night, and what fails on the way does not end it.",
    sortOptions = false,
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan lapse --simulate sunrise --at 46.5,8.0 --date 2026-06-01 --for 3h --json",
      "  scenespan lapse --trigger reference-trigger --port /dev/ttyUSB0 --folder frames"
          + " --interval 10s --until 07:30 --aperture f/2.8 --at 46.5,8.0 --dashboard",
      "  scenespan lapse --by-hand --folder frames --interval 10s --for 90m --aperture f/4"
    })
final class LapseCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;
  @Mixin private Output output;
  @Mixin private PartsOptions parts;
  @Mixin private CadenceOptions cadence;
  @Mixin private PlanFileOption plan;
  @Mixin private LapseLightOptions light;
  @Mixin private PageOption page;
  @Mixin private HandOptions hand;
  @Mixin private LapseExposureOptions exposure;

  @Option(
      names = "--region",
      paramLabel = "PART",
      defaultValue = "whole",
      description =
          "By which part of the picture: whole, sky (the upper half), land (the lower half), or"
              + " X,Y,W,H in parts of it (${DEFAULT-VALUE}).")
  private String region;

  @Option(
      names = "--wish",
      paramLabel = "EV:STOPS",
      split = ",",
      description =
          "How bright the picture should be, in stops against mid grey, where the scene is at that"
              + " EV; several, with smooth curves between. Default: night stays night.")
  private List<String> wishes;

  @Option(
      names = "--frame-timeout",
      paramLabel = "TIME",
      defaultValue = "20s",
      converter = Values.DurationValue.class,
      description =
          "After how long a frame that has not come counts as lost (${DEFAULT-VALUE}); the next one"
              + " does not wait for it.")
  private Duration frameTimeout;

  @Mixin private RealTimeOption realTime;

  @Option(
      names = "--rig-check",
      paramLabel = "WHAT",
      converter = Values.RigCheckValue.class,
      description =
          "Two frames before the first, a stop apart, which are none of the lapse's, to see that"
              + " files come in time, that the exposure is obeyed, that nothing is automatic and"
              + " that the picture is sharp: tell what is wrong and go on, strict to end with exit"
              + " code 4 or 5 if the lapse would be spoilt, or off. Default: tell; off of a"
              + " simulated lapse.")
  private RigCheck rigCheck;

  @Option(names = "--raw", description = "Expect raw files (DNG) and measure those.")
  private boolean raw;

  @Override
  public Integer call() throws IOException, InterruptedException {
    page.check();
    page.lan(); // A wrong address is told before anything begins.
    plan.fillIn();
    Optional<Profile> profile = hand.wanted() ? Optional.empty() : Optional.of(profile());
    light.check(cadence.interval());
    Gear gear = hand.wanted() ? gearByHand() : gear();
    CameraRange range = exposure.range(profile);
    PictureLimits picture = exposure.picture(range);
    LapseSetup.Cadence rhythm = cadence.of(light);
    Region part = Region.parse(region);
    Wish wish = wishes == null ? Wish.usual() : Wish.parse(wishes);
    Optional<Exposure> first = exposure.first(range, plan);
    Optional<Ev> believed =
        first.map(it -> wish.sceneOf(it.ev())).or(() -> profile.flatMap(this::expected));
    Patience patience =
        new Patience(Patience.USUAL.answer(), frameTimeout, Patience.USUAL.outage(), 0);
    if (hand.wanted() && rigCheck != null && rigCheck != RigCheck.OFF) {
      throw new IllegalArgumentException(
          "--rig-check: by hand the first frames themselves show what the camera does");
    }
    boolean isUnchecked = hand.wanted() || gear.rehearsal().isPresent();
    RigCheck check = rigCheck != null ? rigCheck : isUnchecked ? RigCheck.OFF : RigCheck.TELL;
    String name = LocalDateTime.now().format(NewBracket.STAMP) + "-" + label();
    try (OpenedSession session =
        OpenedSession.fresh(
            places.sessions(),
            name,
            profile,
            given ->
                new LapseSetup(
                    given,
                    Main.Version.text(),
                    gear,
                    range,
                    picture,
                    rhythm,
                    part,
                    wish,
                    believed,
                    light.sky(),
                    patience,
                    check))) {
      caution();
      return new SessionRunner(spec, output.json()).run(session, page, realTime.wanted(), false);
    }
  }

  private Profile profile() {
    Profile loaded = parts.profile(places);
    if (loaded.isReleaseOnly()) {
      throw new IllegalArgumentException(
          "trigger \""
              + loaded.name()
              + "\" only releases and the camera keeps its own exposure; a lapse needs one that"
              + " sets or times it");
    }
    return exposure.settle(loaded);
  }

  /** What the first frame may be taken by where nothing is metered. */
  private Optional<Ev> expected(Profile profile) {
    if (profile.meter().isPresent()) {
      return Optional.empty();
    }
    LapseSetup.Sky sky =
        light
            .sky()
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "trigger \""
                            + profile.name()
                            + "\" has no meter; give the first shutter with --start, or the place"
                            + " with --at"));
    Instant from = sky.from().orElseGet(Instant::now);
    return Optional.of(ClearSky.illuminance(Sun.at(sky.at(), from)).ev());
  }

  private Gear gear() {
    Optional<Gear.Rehearsal> rehearsal = light.rehearsal();
    if (rehearsal.isPresent()) {
      return new Gear(parts.trigger(), "", parts.simulated(), raw, rehearsal);
    }
    String folder = parts.real("or --simulate sunrise for simulated ones");
    return new Gear(parts.trigger(), parts.port(), folder, raw, Optional.empty());
  }

  private Gear gearByHand() {
    exposure.checkByHand();
    return Gear.byHand(parts.byHand(light.rehearsal().isPresent()), raw, false, hand.hand());
  }

  private String label() {
    return light.rehearsal().isPresent() ? "lapse-simulated" : "lapse";
  }

  private void caution() {
    if (output.json()) {
      return;
    }
    PrintWriter out = spec.commandLine().getOut();
    out.println(
        "Never look at the sun through an optical finder; a telephoto lens on the sun can burn a"
            + " shutter or a sensor. "
            + PlanCommand.ECLIPSE_CAUTION);
    out.println(
        "Secure the tripod and the cable runs; mind cliffs, tides, traffic, cold and wildlife in"
            + " the dark. Unattended gear needs permission where local rules ask for it.");
    out.flush();
  }
}
