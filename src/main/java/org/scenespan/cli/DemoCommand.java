package org.scenespan.cli;

import java.io.IOException;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.scenespan.control.OpenedSession;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.PictureLimits;
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

/** Everything simulated, with the page open: the first thing that a newcomer runs. */
@Command(
    name = "demo",
    mixinStandardHelpOptions = true,
    description =
        "Everything simulated, with the dashboard on a free port: a camera before a ridge at"
            + " sunrise, wider than one exposure, is bracketed until its whole span is covered."
            + " Open the printed address in a browser. Without --lan nothing but this machine is"
            + " reached.",
    footerHeading = "%nExample:%n",
    footer = "  scenespan demo")
final class DemoCommand implements Callable<Integer> {
  private static final String TRIGGER = "reference-trigger";

  @Spec private CommandSpec spec;
  @Mixin private Places places;

  @Option(
      names = "--scene",
      paramLabel = "SCENE",
      defaultValue = "ridge",
      description = "A bundled scene: ridge, window or flat (${DEFAULT-VALUE}).")
  private String scene;

  @Option(
      names = "--page-port",
      paramLabel = "PORT",
      defaultValue = "0",
      description = "The dashboard's port; 0 takes a free one (${DEFAULT-VALUE}).")
  private int port;

  @Option(
      names = "--lan",
      paramLabel = "ADDRESS",
      arity = "0..1",
      fallbackValue = PageOption.EVERY_ADDRESS,
      description =
          "Let tablets and other machines of the network reach the page too, by a code that is shown"
              + " here; without an address, on every address of this machine.")
  private String lan;

  @Option(names = "--once", description = "End with the bracket instead of leaving the page open.")
  private boolean once;

  @Override
  public Integer call() throws IOException, InterruptedException {
    PageOption page = PageOption.on(port, lan);
    page.lan(); // A wrong address is told before anything begins.
    Gear gear =
        new Gear(
            TRIGGER,
            "",
            Sessions.FRAMES,
            false,
            Optional.of(new Gear.Rehearsal(scene, new Ev(12), 1)));
    Profile profile = places.profiles().load(TRIGGER);
    NewBracket bracket =
        new NewBracket(
            "demo",
            Optional.of(profile),
            profile.cameraRange(),
            gear,
            BracketGoal.USUAL,
            PictureLimits.at(Aperture.parse("f/8")),
            Optional.empty(),
            Known.NOTHING,
            Patience.USUAL,
            Optional.empty());
    try (OpenedSession session = bracket.open(places.sessions())) {
      return new SessionRunner(spec, false).run(session, page, true, !once);
    }
  }
}
