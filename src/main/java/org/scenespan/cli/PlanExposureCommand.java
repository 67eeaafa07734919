package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.scenespan.light.Distance;
import org.scenespan.light.Iso;
import org.scenespan.light.NeutralDensity;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.plan.settings.PlannedLimits;
import org.scenespan.plan.settings.Settings;
import org.scenespan.plan.settings.SettingsPlan;
import org.scenespan.plan.settings.Water;
import org.scenespan.plan.settings.Wish;
import org.scenespan.wire.PlanJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** The settings for a picture. */
@Command(
    name = "exposure",
    mixinStandardHelpOptions = true,
    sortOptions = false,
    description =
        "From the picture wanted to the settings: say how bright the scene is, what is to be sharp,"
            + " still or blurred and how much noise may be, and get the settings that do it, the"
            + " best first, with what each gives up in stops.",
    footerHeading = "%nExamples:%n",
    footer = {
      "  scenespan plan exposure --light open-shade --focal 24mm --near 0.9m --speed 0.5m/s"
          + " --subject 5m --highest-iso 400",
      "  scenespan plan exposure --ev 15 --water silky --nd ND64 --save water.json",
      "  scenespan bracket --simulate ridge --plan water.json"
    })
final class PlanExposureCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;
  @Mixin private SceneOptions scene;
  @Mixin private LensOptions lens;
  @Mixin private MotionOptions motion;
  @Mixin private RangeOptions camera;

  @Option(
      names = "--near",
      paramLabel = "DISTANCE",
      converter = Values.DistanceValue.class,
      description = "The nearest that is to be sharp.")
  private Distance near;

  @Option(
      names = "--far",
      paramLabel = "DISTANCE",
      defaultValue = "infinity",
      converter = Values.DistanceValue.class,
      description = "The farthest that is to be sharp (${DEFAULT-VALUE}).")
  private Distance far;

  @Option(
      names = "--diffraction",
      paramLabel = "MM",
      arity = "0..1",
      fallbackValue = "0",
      description =
          "Diffraction is to blur no point wider than this, 2.44 x 0.55 um x the f-number; without a"
              + " number than the sensor's circle of confusion, 0.03 mm on 36x24 mm.")
  private Double diffraction;

  @Option(
      names = "--water",
      paramLabel = "LOOK",
      description = "Water is to run: silky (from 1/3 s), smooth (1 s) or mist (15 s).")
  private Water water;

  @Option(
      names = "--blur-from",
      paramLabel = "SHUTTER",
      converter = Values.ShutterValue.class,
      description = "What moves is to blur: at least this long.")
  private Shutter blurFrom;

  @Option(names = "--stars", description = "Stars are to stay points.")
  private boolean stars;

  @Option(
      names = "--declination",
      paramLabel = "DEGREES",
      defaultValue = "0",
      description = "Of the stars nearest to the celestial equator (${DEFAULT-VALUE}).")
  private double declination;

  @Option(names = "--hand-held", description = "There is no tripod.")
  private boolean handHeld;

  @Option(
      names = "--stabiliser",
      paramLabel = "STOPS",
      defaultValue = "0",
      converter = Values.StopsValue.class,
      description = "What a stabiliser is trusted with by hand (${DEFAULT-VALUE}).")
  private Stops stabiliser;

  @Option(
      names = "--highest-iso",
      paramLabel = "ISO",
      converter = Values.IsoValue.class,
      description = "The highest ISO that noise allows.")
  private Iso highestIso;

  @Option(
      names = "--nd",
      paramLabel = "FILTER",
      converter = Values.NeutralDensityValue.class,
      description = "What stands before the lens: OD3.0, ND1000 or 10stops.")
  private NeutralDensity filter;

  @Option(
      names = "--choose",
      paramLabel = "N",
      defaultValue = "1",
      description = "Which of the settings the limits are made of (${DEFAULT-VALUE}).")
  private int choose;

  @Option(
      names = "--save",
      paramLabel = "FILE",
      description =
          "Keep the plan in a file for --plan of bracket and lapse; an existing file is not"
              + " replaced.")
  private Path save;

  @Option(names = "--json", description = "Write one JSON object.")
  private boolean json;

  @Override
  public Integer call() throws IOException {
    SceneOptions.Scene bright = scene.scene();
    SettingsPlan plan =
        new SettingsPlan(
            bright.ev(), filter == null ? NeutralDensity.NONE : filter, camera.range(), wishes());
    List<Settings> ranked = plan.ranked();
    PlannedLimits limits = PlannedLimits.of(SettingsPlan.chosen(ranked, choose), plan.wishes());
    ObjectNode node = PlanJson.exposure(plan, ranked, limits, bright.source());
    if (save != null) {
      if (Files.exists(save)) {
        throw new IllegalArgumentException(
            "\"" + save + "\" exists and is not replaced; name another file with --save");
      }
      Files.writeString(save, node + "\n");
    }
    PrintWriter out = spec.commandLine().getOut();
    if (json) {
      out.println(node);
    } else {
      tell(out, plan, ranked, bright.source());
    }
    out.flush();
    return ExitCode.DONE;
  }

  private List<Wish> wishes() {
    List<Wish> wishes = new ArrayList<>();
    if (near != null) {
      wishes.add(new Wish.Depth(lens.focal(), lens.sensor(), near, far));
    }
    if (diffraction != null) {
      wishes.add(
          new Wish.FineDetail(diffraction == 0 ? lens.sensor().circleMillimetres() : diffraction));
    }
    motion
        .movement()
        .ifPresent(
            it ->
                wishes.add(
                    new Wish.Freeze(
                        it, lens.focal(), lens.sensor(), motion.pixels(lens.sensor()))));
    if (water != null) {
      wishes.add(water.wish());
    }
    if (blurFrom != null) {
      wishes.add(new Wish.Blur(blurFrom, "what moves"));
    }
    if (stars) {
      wishes.add(new Wish.StarPoints(lens.focal(), lens.sensor(), declination, 1));
    }
    if (handHeld) {
      wishes.add(new Wish.HandHeld(lens.focal(), lens.sensor(), stabiliser));
    }
    if (highestIso != null) {
      wishes.add(new Wish.LowNoise(highestIso));
    }
    return wishes;
  }

  private void tell(PrintWriter out, SettingsPlan plan, List<Settings> ranked, String source) {
    out.printf(
        Locale.ROOT,
        "Scene %s (%s)%s.%n",
        plan.scene(),
        source,
        plan.filter().stops() > 0 ? ", behind neutral density of " + plan.filter() : "");
    out.println(
        ranked.get(0).meetsAll()
            ? "These hold every wish:"
            : "Nothing holds every wish. What has to give:");
    for (int i = 0; i < ranked.size(); i++) {
      out.println("  " + (i + 1) + ". " + ranked.get(i).words());
    }
    plan.remedies().forEach(out::println);
    if (save != null) {
      out.println(
          "Number " + choose + " is kept in " + save + "; use it with bracket --plan " + save);
    }
    if (scene.isBySun()) {
      out.println(PlanCommand.SUN_CAUTION);
    }
    if (stars) {
      out.println(PlanCommand.NIGHT_CAUTION);
    }
    if (plan.filter().stops() > 0) {
      out.println("Never look at the sun through a filter. " + PlanCommand.ECLIPSE_CAUTION);
    }
  }
}
