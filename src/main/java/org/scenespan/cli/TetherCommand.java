package org.scenespan.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalDateTime;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.scenespan.control.OpenedSession;
import org.scenespan.plan.guard.Levels;
import org.scenespan.session.Gear;
import org.scenespan.session.Patience;
import org.scenespan.session.TetherSetup;
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
            + " colour, clipping and sharpness, and tell what differs.",
    sortOptions = false,
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan tether --folder frames --first-is-reference",
      "  scenespan tether --folder frames --dashboard --lan",
      "  scenespan tether --folder frames --first-is-reference --frames 40 --json",
      "  scenespan tether --by-hand --folder frames --first-is-reference"
    })
final class TetherCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;
  @Mixin private Output output;
  @Mixin private PageOption page;
  @Mixin private HandOptions hand;

  @Option(
      names = "--folder",
      paramLabel = "DIR",
      required = true,
      description = "The hot folder in which the camera's files appear. Files are only ever read.")
  private Path folder;

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

  @Option(names = "--raw", description = "Expect raw files (DNG) and measure those.")
  private boolean raw;

  @Override
  public Integer call() throws IOException, InterruptedException {
    page.check();
    page.lan(); // A wrong address is told before anything begins.
    Levels levels = new Levels(exposure, colour, clipping, sharpness);
    String hot = folder.toAbsolutePath().toString();
    Gear gear =
        hand.wanted()
            ? Gear.byHand(hot, raw, false, hand.hand())
            : new Gear("", "", hot, raw, Optional.empty());
    String name = LocalDateTime.now().format(NewBracket.STAMP) + "-tether";
    try (OpenedSession session =
        OpenedSession.fresh(
            places.sessions(),
            name,
            Optional.empty(),
            given ->
                new TetherSetup(
                    given,
                    Main.Version.text(),
                    gear,
                    levels,
                    firstIsReference,
                    frames,
                    Optional.ofNullable(longest),
                    Patience.USUAL))) {
      return new SessionRunner(spec, output.json()).run(session, page, true, false);
    }
  }
}
