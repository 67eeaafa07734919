package org.scenespan.control;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.scenespan.frame.NoiseModel;
import org.scenespan.journal.Sessions;
import org.scenespan.light.Aperture;
import org.scenespan.light.PictureLimits;
import org.scenespan.plan.BracketGoal;
import org.scenespan.plan.Known;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Gear;
import org.scenespan.session.Patience;
import org.scenespan.trigger.PortOpener;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;

/** One bracket in real time over a real folder, at a port of the caller's, for the benches. */
public final class BenchRun {
  private BenchRun() {}

  /**
   * Runs to the session's end.
   *
   * @param directory where sessions are kept
   * @param folder the hot folder
   */
  public static void run(Path directory, Path folder, PortOpener port)
      throws IOException, InterruptedException {
    Profile profile = new Profiles(Optional.empty()).load("reference-trigger");
    Path session = new Sessions(directory).create("bench");
    BracketSetup setup =
        new BracketSetup(
            session.getFileName().toString(),
            "bench",
            new Gear(profile.name(), "bench", folder.toString(), false, Optional.empty()),
            BracketGoal.USUAL,
            profile.cameraRange(),
            PictureLimits.at(Aperture.parse("f/8")),
            NoiseModel.TYPICAL,
            Optional.empty(),
            Known.NOTHING,
            Patience.USUAL);
    Workbench bench = Workbench.fresh(session, Optional.of(profile), setup);
    try {
      new LiveRun(bench, port, records -> {}, SteadyClock.ofSystem()).run();
    } finally {
      bench.journal().close();
    }
  }
}
