package org.scenespan.cli;

import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** What can be known before the first frame. */
@Command(
    name = "plan",
    mixinStandardHelpOptions = true,
    description = "Plan before you shoot: the settings, the light, the sun, what a lapse needs.",
    subcommands = {
      PlanExposureCommand.class,
      PlanDepthCommand.class,
      PlanMotionCommand.class,
      PlanStarsCommand.class,
      PlanFilterCommand.class,
      PlanSunCommand.class,
      PlanLapseCommand.class
    },
    footerHeading = "%nExample:%n",
    footer = "  scenespan plan sun --at 46.5,8.0 --date 2026-06-01 --zone Europe/Zurich")
final class PlanCommand implements Runnable {
  /** Told wherever the sun may stand in the picture. */
  static final String SUN_CAUTION =
      "Caution: never look at the sun through an optical finder; a telephoto lens on the sun can"
          + " burn a shutter or a sensor.";

  static final String ECLIPSE_CAUTION =
      "The partial phases of a solar eclipse need a certified solar filter (ISO 12312-2) in front of"
          + " the lens; a neutral density filter is none.";

  static final String NIGHT_CAUTION =
      "Caution: in the dark mind cliffs, tides, traffic, cold and wildlife; secure the tripod; gear"
          + " left alone needs permission where local rules ask for it.";

  @Spec private CommandSpec spec;

  @Override
  public void run() {
    spec.commandLine().usage(spec.commandLine().getOut());
  }
}
