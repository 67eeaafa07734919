package org.scenespan.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.concurrent.Callable;
import org.scenespan.control.DryTest;
import org.scenespan.light.Ev;
import org.scenespan.trigger.Profile;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Tries a trigger. */
@Command(
    name = "check",
    mixinStandardHelpOptions = true,
    description = {
      "Talk to a trigger without firing: greet it, and read its meter if it has one.",
      "With --fire, take a few frames and measure lag, jitter and what was really exposed."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan devices check --trigger reference-trigger --port /dev/ttyUSB0",
      "  scenespan devices check --trigger open-close --port tcp://192.0.2.7:4000 --fire"
          + " --folder frames"
    })
final class CheckCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private Places places;
  @Mixin private TriggerTrial trial;

  @Option(names = "--fire", description = "Take frames: the camera's shutter will go off.")
  private boolean fire;

  @Override
  public Integer call() throws IOException, InterruptedException {
    PrintWriter out = spec.commandLine().getOut();
    Profile profile = places.profiles().load(trial.trigger());
    DryTest.Result result = DryTest.run(profile, trial.port());
    if (result.identity().isEmpty()) {
      spec.commandLine().getErr().println("scenespan: the trigger: " + result.trouble());
      return ExitCode.TRIGGER_FAILED;
    }
    out.println("Trigger: " + result.identity().get());
    out.println("Sets:    " + Capabilities.of(profile));
    profile
        .measured()
        .ifPresent(
            found ->
                out.println(
                    "Learned: answers "
                        + found.answerMillis()
                        + " ms beyond the exposure, jitter "
                        + found.jitterMillis()
                        + " ms, in "
                        + found.frames()
                        + " frames"));
    if (profile.meter().isPresent()) {
      out.println(
          "Meter:   " + result.metered().map(Ev::toString).orElse("not read: " + result.trouble()));
    }
    if (!fire) {
      out.println("Nothing was fired.");
    }
    out.flush();
    if (profile.meter().isPresent() && result.metered().isEmpty()) {
      return ExitCode.TRIGGER_FAILED;
    }
    return fire ? trial.fire(profile, out).exitCode() : ExitCode.DONE;
  }
}
