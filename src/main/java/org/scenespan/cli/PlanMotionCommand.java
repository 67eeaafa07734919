package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.IntStream;
import org.scenespan.light.FocalLength;
import org.scenespan.light.Movement;
import org.scenespan.light.Rounding;
import org.scenespan.light.SensorFormat;
import org.scenespan.light.Shutter;
import org.scenespan.light.ShutterLadder;
import org.scenespan.light.Stops;
import org.scenespan.plan.settings.Wish;
import org.scenespan.wire.PlanJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** How long a moving subject allows. */
@Command(
    name = "motion",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description =
        "Motion: the longest shutter that freezes a subject of this speed, distance and direction,"
            + " and how far it blurs at others.",
    footerHeading = "%nExample:%n",
    footer = "  scenespan plan motion --focal 24mm --speed 0.5m/s --subject 10m --blur 2")
final class PlanMotionCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private LensOptions lens;
  @Mixin private MotionOptions motion;

  @Option(
      names = "--shutter",
      paramLabel = "SHUTTER",
      converter = Values.ShutterValue.class,
      description = "Say how far the subject blurs at this time.")
  private Shutter shutter;

  @Option(names = "--json", description = "Write one JSON object.")
  private boolean json;

  @Override
  public Integer call() {
    FocalLength focal = lens.focal();
    SensorFormat sensor = lens.sensor();
    Movement movement =
        motion
            .movement()
            .orElseThrow(
                () -> new IllegalArgumentException("give the subject with --speed and --subject"));
    double pixels = motion.pixels(sensor);
    double longest = movement.longestSeconds(pixels, focal, sensor);
    Optional<Shutter> step = stepWithin(longest);
    double hand = new Wish.HandHeld(focal, sensor, Stops.ZERO).longestSeconds();
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      ObjectNode node = PlanJson.object("motion");
      PlanJson.put(node, "allowedPixels", pixels);
      PlanJson.put(node, "longestSeconds", longest);
      step.ifPresent(it -> node.put("shutterSeconds", it.nominalSeconds()));
      PlanJson.put(node, "handHeldSeconds", hand);
      if (shutter != null) {
        PlanJson.put(node, "blurPixels", movement.blurPixels(shutter, focal, sensor));
      }
      out.println(node);
    } else {
      out.printf(
          Locale.ROOT,
          "%s freezes it: %.1f pixels of blur or less.%n",
          step.map(it -> it + " or shorter").orElse("No shutter of the ladder"),
          pixels);
      for (Shutter time : shutter != null ? List.of(shutter) : around(step)) {
        out.printf(
            Locale.ROOT, "  %-9s %6.1f px%n", time, movement.blurPixels(time, focal, sensor));
      }
      out.printf(
          Locale.ROOT,
          "Held by hand (1/(f x crop)): %s or shorter.%n",
          stepWithin(hand).map(Shutter::toString).orElse("no shutter"));
      out.println("Water turns silky from about 1/3 s, smooth at 1 to 5 s, to mist at 15 to 30 s.");
      out.println(
          "Vibration is worst from 1/60 to 1/2 s: settle 2 s after a mirror, and use a remote"
              + " release.");
    }
    out.flush();
    return ExitCode.DONE;
  }

  /** The longest engraved time that is no longer, to a twentieth of a stop. */
  static Optional<Shutter> stepWithin(double seconds) {
    List<Shutter> ladder = Shutter.thirds(Shutter.ofThird(-45), Shutter.ofThird(24));
    return ladder.stream()
        .filter(step -> step.seconds() <= seconds * Math.pow(2, 0.05))
        .reduce((shorter, longer) -> longer);
  }

  /** The engraved time nearest to one. */
  static Shutter stepNear(double seconds) {
    return ShutterLadder.thirds(Shutter.ofThird(-45), Shutter.ofThird(24))
        .at(seconds, Rounding.NEAREST);
  }

  private static List<Shutter> around(Optional<Shutter> step) {
    int third = step.flatMap(it -> it.third().stream().boxed().findFirst()).orElse(-45);
    return IntStream.of(-3, 0, 3, 6, 9)
        .map(stops -> third + stops)
        .filter(k -> k >= -45 && k <= 24)
        .mapToObj(Shutter::ofThird)
        .toList();
  }
}
