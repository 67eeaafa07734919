package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.scenespan.light.Aperture;
import org.scenespan.light.DepthOfField;
import org.scenespan.light.Distance;
import org.scenespan.light.FocalLength;
import org.scenespan.wire.PlanJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Depth of field, both ways. */
@Command(
    name = "depth",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description =
        "Depth of field: what is sharp at an aperture and a distance, or which aperture and distance"
            + " hold everything from near to far.",
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan plan depth --focal 50mm --aperture f/8 --distance 3m",
      "  scenespan plan depth --focal 24mm --near 1.2m --far infinity"
    })
final class PlanDepthCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private LensOptions lens;

  @Option(
      names = "--aperture",
      paramLabel = "F",
      converter = Values.ApertureValue.class,
      description = "The aperture.")
  private Aperture aperture;

  @Option(
      names = "--distance",
      paramLabel = "DISTANCE",
      converter = Values.DistanceValue.class,
      description = "What is focused at. Default with --aperture: the hyperfocal distance.")
  private Distance distance;

  @Option(
      names = "--near",
      paramLabel = "DISTANCE",
      converter = Values.DistanceValue.class,
      description = "The nearest that is to be sharp.")
  private Distance near;

  @Option(
      names = "--far",
      paramLabel = "DISTANCE",
      converter = Values.DistanceValue.class,
      description = "The farthest that is to be sharp. Default: infinity.")
  private Distance far;

  @Option(
      names = "--circle",
      paramLabel = "MM",
      description =
          "The largest blur that still looks sharp. Default: 0.03 mm on 36x24 mm, and in proportion"
              + " to the diagonal.")
  private Double circle;

  @Option(names = "--json", description = "Write one JSON object.")
  private boolean json;

  @Override
  public Integer call() {
    FocalLength focal = lens.focal();
    double c = circle != null ? circle : lens.sensor().circleMillimetres();
    Aperture stop = aperture;
    Distance focus = distance;
    if (near != null) {
      if (aperture != null || distance != null) {
        throw new IllegalArgumentException(
            "--near and --far find aperture and distance: leave --aperture and --distance out");
      }
      DepthOfField.Holding holding =
          DepthOfField.holding(focal, c, near, far != null ? far : Distance.INFINITE);
      stop = stopFor(holding.number());
      focus = holding.focus();
    } else if (far != null) {
      throw new IllegalArgumentException("--far needs --near");
    } else if (stop == null) {
      throw new IllegalArgumentException("give --aperture, or --near and --far");
    } else if (focus == null) {
      focus = DepthOfField.hyperfocal(focal, stop, c);
    }
    tell(new DepthOfField(focal, stop, c, focus));
    return ExitCode.DONE;
  }

  /** The widest step of the ladder that is closed far enough, to a twentieth of a stop. */
  private static Aperture stopFor(double number) {
    return Aperture.thirds().stream()
        .filter(step -> step.number() * Math.pow(2, 0.025) >= number)
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    String.format(
                        Locale.ROOT,
                        "it would take f/%.0f; go further away, use a shorter lens, or take frames"
                            + " at several distances",
                        number)));
  }

  private void tell(DepthOfField field) {
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      ObjectNode node = PlanJson.object("depth");
      PlanJson.put(node, "focalMillimetres", field.lens().millimetres());
      PlanJson.put(node, "aperture", field.aperture().nominalNumber());
      PlanJson.put(node, "circleMillimetres", field.circleMillimetres());
      PlanJson.put(node, "focusMetres", field.focus());
      PlanJson.put(node, "nearMetres", field.near());
      PlanJson.put(node, "farMetres", field.far());
      PlanJson.put(node, "hyperfocalMetres", field.hyperfocal());
      out.println(node);
    } else {
      out.printf(
          Locale.ROOT,
          "%s at %s, focused at %s: sharp from %s to %s.%n",
          field.lens(),
          field.aperture(),
          field.focus(),
          field.near(),
          field.far());
      out.printf(
          Locale.ROOT,
          "Hyperfocal distance %s; circle of confusion %.3f mm.%n",
          field.hyperfocal(),
          field.circleMillimetres());
    }
    out.flush();
  }
}
