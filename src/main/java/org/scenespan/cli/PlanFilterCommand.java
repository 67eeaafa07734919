package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.scenespan.light.NeutralDensity;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.wire.PlanJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Neutral density, both ways. */
@Command(
    name = "filter",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description =
        "Neutral density: the shutter behind a filter, or the filter that gives a wished shutter.",
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan plan filter --shutter 1/125 --nd ND1000",
      "  scenespan plan filter --shutter 1/60 --wished 2s"
    })
final class PlanFilterCommand implements Callable<Integer> {
  /** Beyond this a ladder of engraved times is no help: bulb. */
  private static final double LONGEST_ENGRAVED_SECONDS = 30;

  @Spec private CommandSpec spec;

  @Option(
      names = "--shutter",
      paramLabel = "SHUTTER",
      required = true,
      converter = Values.ShutterValue.class,
      description = "What exposes right without a filter.")
  private Shutter shutter;

  @Option(
      names = "--nd",
      paramLabel = "FILTER",
      converter = Values.NeutralDensityValue.class,
      description = "The filter: OD3.0, ND1000 or 10stops; several with a plus, ND8+ND64.")
  private NeutralDensity filter;

  @Option(
      names = "--wished",
      paramLabel = "SHUTTER",
      converter = Values.ShutterValue.class,
      description = "The shutter that is wished for.")
  private Shutter wished;

  @Option(names = "--json", description = "Write one JSON object.")
  private boolean json;

  @Override
  public Integer call() {
    if ((filter == null) == (wished == null)) {
      throw new IllegalArgumentException("give either --nd or --wished");
    }
    NeutralDensity found = filter != null ? filter : needed();
    double seconds = found.seconds(shutter);
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      ObjectNode node = PlanJson.object("filter");
      PlanJson.put(node, "stops", found.stops());
      PlanJson.put(node, "opticalDensity", found.density());
      PlanJson.put(node, "factor", found.factor());
      PlanJson.put(node, "seconds", seconds);
      out.println(node);
    } else {
      out.printf(Locale.ROOT, "%s with %s: %s.%n", shutter, found, seconds(seconds));
      if (seconds > LONGEST_ENGRAVED_SECONDS) {
        out.println("Longer than most cameras time by themselves: use bulb.");
      }
      out.println("Never look at the sun through it. " + PlanCommand.ECLIPSE_CAUTION);
    }
    out.flush();
    return ExitCode.DONE;
  }

  private NeutralDensity needed() {
    double stops = Stops.ofRatio(wished.seconds() / shutter.seconds()).value();
    if (!(stops >= 0)) {
      throw new IllegalArgumentException(
          "a filter only makes the shutter longer; " + wished + " is shorter than " + shutter);
    }
    return new NeutralDensity(stops);
  }

  /** {@code 8 s}, {@code 4 min 16 s}. */
  private static String seconds(double seconds) {
    if (seconds < 0.3) {
      return PlanMotionCommand.stepNear(seconds).toString();
    }
    if (seconds < 100) {
      return String.format(Locale.ROOT, "%.1f s", seconds).replace(".0 s", " s");
    }
    long whole = Math.round(seconds);
    return whole / 60 + " min " + whole % 60 + " s";
  }
}
