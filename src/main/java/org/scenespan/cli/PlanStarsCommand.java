package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.scenespan.light.Aperture;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stars;
import org.scenespan.wire.PlanJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** How long stars stay points. */
@Command(
    name = "stars",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description =
        "Stars: how long they stay points on a still tripod, by three rules of the trade.",
    footerHeading = "%nExample:%n",
    footer = "  scenespan plan stars --focal 14mm --aperture f/2.8 --columns 8276")
final class PlanStarsCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private LensOptions lens;

  @Option(
      names = "--aperture",
      paramLabel = "F",
      required = true,
      converter = Values.ApertureValue.class,
      description = "The aperture.")
  private Aperture aperture;

  @Option(
      names = "--declination",
      paramLabel = "DEGREES",
      defaultValue = "0",
      description =
          "Of the stars nearest to the celestial equator in the picture; 0 is the strictest"
              + " (${DEFAULT-VALUE}).")
  private double declination;

  @Option(
      names = "--trail-factor",
      paramLabel = "K",
      defaultValue = "1",
      description =
          "1 for points at full size, 2 for barely seen trails, 3 for small prints"
              + " (${DEFAULT-VALUE}).")
  private double factor;

  @Option(names = "--json", description = "Write one JSON object.")
  private boolean json;

  @Override
  public Integer call() {
    Stars stars = new Stars(lens.focal(), aperture, lens.sensor(), declination);
    double full = stars.full(factor);
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      ObjectNode node = PlanJson.object("stars");
      PlanJson.put(node, "fullSeconds", full);
      PlanJson.put(node, "simpleSeconds", stars.simple());
      PlanJson.put(node, "ruleOf500Seconds", stars.ruleOf500());
      PlanJson.put(node, "driftMicrometresPerSecond", stars.driftMicrometresPerSecond());
      PlanJson.put(node, "pitchMicrometres", lens.sensor().pitchMicrometres());
      out.println(node);
    } else {
      out.printf(
          Locale.ROOT,
          "Points up to %.1f s by the full form; set %s.%n",
          full,
          PlanMotionCommand.stepWithin(full).map(Shutter::toString).orElse("no shutter"));
      out.printf(
          Locale.ROOT,
          "The simple form says %.1f s, the old rule of 500 %.1f s (for small prints).%n",
          stars.simple(),
          stars.ruleOf500());
      out.printf(
          Locale.ROOT,
          "A star runs %.2f um a second over pixels of %.2f um.%n",
          stars.driftMicrometresPerSecond(),
          lens.sensor().pitchMicrometres());
      out.println(PlanCommand.NIGHT_CAUTION);
    }
    out.flush();
    return ExitCode.DONE;
  }
}
