package org.scenespan.cli;

import java.io.IOException;
import java.time.Duration;
import java.time.LocalDateTime;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.scenespan.control.OpenedSession;
import org.scenespan.plan.guard.Levels;
import org.scenespan.session.Gear;
import org.scenespan.session.Patience;
import org.scenespan.session.TetherSetup;
import org.scenespan.trigger.Profile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Holds every frame that lands against a reference frame. */
@Command(
    name = "tether",
    mixinStandardHelpOptions = true,
    description =
        "Watch a hot folder: hold every frame that lands against a reference frame, for exposure,"
            + " colour, clipping and sharpness, and tell what differs. With a trigger (--port) an"
            + " operator can release from the page.",
    sortOptions = false,
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan tether --folder frames --first-is-reference",
      "  scenespan tether --folder frames --dashboard --lan",
      "  scenespan tether --folder frames --dashboard --trigger release-only --port /dev/ttyUSB0",
      "  scenespan tether --folder frames --first-is-reference --frames 40 --json",
      "  scenespan tether --by-hand --folder frames --first-is-reference"
    })
final class TetherCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;
  @Mixin private PartsOptions parts;
  @Mixin private Output output;
  @Mixin private PageOption page;
  @Mixin private HandOptions hand;

  @Option(
      names = "--first-is-reference",
      description =
          "Take the first frame as the reference frame. Without one, frames are only listed until"
              + " one is marked on the page (--dashboard).")
  private boolean firstIsReference;

  @Option(
      names = "--frames",
      paramLabel = "N",
      defaultValue = "0",
      description = "End after so many frames. Default: with --for, or when you press Ctrl-C.")
  private int frames;

  @Option(
      names = "--for",
      paramLabel = "TIME",
      converter = Values.DurationValue.class,
      description = "End after this time.")
  private Duration longest;

  @Option(
      names = "--exposure-levels",
      paramLabel = "WARN,ALARM",
      defaultValue = "0.1,0.2",
      converter = Values.LevelsValue.class,
      description = "Stops of the patch, or of the whole picture, either way (${DEFAULT-VALUE}).")
  private Levels.Pair exposure;

  @Option(
      names = "--colour-levels",
      paramLabel = "WARN,ALARM",
      defaultValue = "2%,4%",
      converter = Values.LevelsValue.class,
      description = "Red and blue against green (${DEFAULT-VALUE}).")
  private Levels.Pair colour;

  @Option(
      names = "--clipping-levels",
      paramLabel = "WARN,ALARM",
      defaultValue = "0.2%,1%",
      converter = Values.LevelsValue.class,
      description =
          "More of the picture clipped in a channel than in the reference frame"
              + " (${DEFAULT-VALUE}).")
  private Levels.Pair clipping;

  @Option(
      names = "--sharpness-levels",
      paramLabel = "WARN,ALARM",
      defaultValue = "30%,50%",
      converter = Values.LevelsValue.class,
      description = "Sharpness lost of the session's median (${DEFAULT-VALUE}).")
  private Levels.Pair sharpness;

  @Option(
      names = "--frame-timeout",
      paramLabel = "TIME",
      defaultValue = "20s",
      converter = Values.DurationValue.class,
      description =
          "With a trigger: the longest from a release to its file in the folder, the exposure"
              + " included (${DEFAULT-VALUE}).")
  private Duration frameTimeout;

  @Option(
      names = "--guests",
      description =
          "With --dashboard: show the link to the guest page and its QR code here, too. What guests"
              + " see is chosen on the page; at first nothing.")
  private boolean guests;

  @Option(names = "--raw", description = "Expect raw files (DNG) and measure those.")
  private boolean raw;

  @Override
  public Integer call() throws IOException, InterruptedException {
    page.check();
    page.withGuests(guests);
    page.lan(); // A wrong address is told before anything begins.
    if (!parts.hasPort() && isTyped("--trigger")) {
      throw new IllegalArgumentException("--trigger: give its --port as well");
    }
    Levels levels = new Levels(exposure, colour, clipping, sharpness);
    if (hand.wanted() && (isTyped("--trigger") || isTyped("--port"))) {
      throw new IllegalArgumentException(
          "--by-hand is for a camera without a trigger: leave --trigger and --port out");
    }
    Optional<Profile> profile = hand.wanted() ? Optional.empty() : profile();
    Gear gear =
        hand.wanted()
            ? Gear.byHand(parts.folder(), raw, false, hand.hand())
            : new Gear(
                profile.map(it -> parts.trigger()).orElse(""),
                profile.map(it -> parts.port()).orElse(""),
                parts.folder(),
                raw,
                Optional.empty());
    Patience patience =
        new Patience(
            Patience.USUAL.answer(),
            frameTimeout,
            Patience.USUAL.outage(),
            Patience.USUAL.retakes());
    String name = LocalDateTime.now().format(NewBracket.STAMP) + "-tether";
    try (OpenedSession session =
        OpenedSession.fresh(
            places.sessions(),
            name,
            profile,
            given ->
                new TetherSetup(
                    given,
                    Main.Version.text(),
                    gear,
                    levels,
                    firstIsReference,
                    frames,
                    Optional.ofNullable(longest),
                    patience))) {
      return new SessionRunner(spec, output.json()).run(session, page, true, false);
    }
  }

  /**
   * The trigger's profile, if there is one to release. A port that only the settings name is passed
   * over where a tether has no use for it.
   */
  private Optional<Profile> profile() {
    boolean typed = isTyped("--port");
    if (!parts.hasPort() || !page.wanted() && !typed) {
      return Optional.empty();
    }
    if (!page.wanted()) {
      throw new IllegalArgumentException(
          "a tether is released from its page: give --dashboard beside --port");
    }
    Profile loaded = parts.profile(places);
    if (!loaded.isPlainlyReleased() && typed) {
      throw new IllegalArgumentException(
          "trigger \""
              + loaded.name()
              + "\" has to be told an exposure and a tether sets none; take one that only releases,"
              + " or one that sets the camera's exposure and lets the camera time it");
    }
    return Optional.of(loaded).filter(Profile::isPlainlyReleased);
  }

  private boolean isTyped(String option) {
    return spec.commandLine().getParseResult().hasMatchedOption(option);
  }
}
