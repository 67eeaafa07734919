package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.scenespan.trigger.Profile;
import org.scenespan.trigger.Profiles;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Keeps what a trigger really does in a profile of the user's own. */
@Command(
    name = "learn",
    mixinStandardHelpOptions = true,
    description =
        "Take a few frames, measure lag, jitter and what was really exposed, and keep it in a"
            + " device profile of your own. The camera's shutter will go off.",
    footerHeading = "%nExample:%n",
    footer = "  scenespan devices learn --trigger timed-contact --port /dev/ttyUSB0 --name my-box")
final class LearnCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;
  @Mixin private TriggerTrial trial;

  @Option(
      names = "--name",
      paramLabel = "NAME",
      description = "The new profile's name. Default: that of the one it is made from.")
  private String name;

  @Option(names = "--replace", description = "Replace a profile of your own of that name.")
  private boolean replace;

  @Override
  public Integer call() throws IOException, InterruptedException {
    PrintWriter out = spec.commandLine().getOut();
    Profiles profiles = places.profiles();
    Profile profile = profiles.load(trial.trigger());
    String learned = name == null ? profile.name() : name;
    profiles.requireFree(learned, replace);
    TriggerTrial.Fired fired = trial.fire(profile, out);
    if (fired.measured().isEmpty()) {
      spec.commandLine()
          .getErr()
          .println(
              "scenespan: the trigger confirmed no frame, so nothing was learned; see: scenespan"
                  + " devices check");
      return ExitCode.TRIGGER_FAILED;
    }
    Path file = profiles.learn(trial.trigger(), learned, fired.measured().get(), replace);
    out.println("Kept:    " + file);
    out.flush();
    return fired.exitCode();
  }
}
