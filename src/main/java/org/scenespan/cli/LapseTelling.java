package org.scenespan.cli;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.scenespan.light.Shutter;
import org.scenespan.plan.settings.LapseOutline;
import org.scenespan.wire.PlanJson;

/** The outline of a lapse as text and as JSON. */
record LapseTelling(
    LapseOutline outline, List<LapseOutline.Moment> moments, StorageOptions storage, ZoneId zone) {
  private static final int[] RATES = {24, 25, 30};

  private double intervalSeconds() {
    return outline.cadence().interval().toMillis() / 1000.0;
  }

  private String interval() {
    return String.format(Locale.ROOT, "%.1f s", intervalSeconds()).replace(".0 s", " s");
  }

  private Shutter longest() {
    return outline.latitude().brightest().shutter();
  }

  List<String> lines() {
    List<String> lines = new ArrayList<>();
    Duration span = Duration.between(outline.from(), outline.to());
    lines.add(
        String.format(
            Locale.ROOT,
            "From %s to %s (%s), %d h %02d min: %d frames at %s.",
            PlanSunCommand.clock(outline.from(), zone),
            PlanSunCommand.clock(outline.to(), zone),
            zone,
            span.toHours(),
            span.toMinutesPart(),
            outline.frames(),
            interval()));
    lines.add(
        String.format(
            Locale.ROOT,
            "Clip: %.1f s at 24, %.1f s at 25, %.1f s at 30 frames a second.",
            outline.clipSeconds(24),
            outline.clipSeconds(25),
            outline.clipSeconds(30)));
    lines.add(
        String.format(
            Locale.ROOT,
            "Card %.1f GB; battery %d %s of %d frames.",
            outline.gigabytes(storage.megabytesPerFrame()),
            charges(),
            charges() == 1 ? "charge" : "charges",
            storage.framesPerCharge()));
    lines.add(
        String.format(
            Locale.ROOT,
            "Longest shutter that fits the interval: %s; motion looks natural near half of it.",
            longest()));
    lines.add(
        String.format(
            Locale.ROOT,
            "The light changes by %.2f stop a frame at the fastest.",
            outline.fastestPerFrame().value()));
    lines.add("             time   sun      ground     exposure");
    for (LapseOutline.Moment it : moments) {
      lines.add(
          String.format(
              Locale.ROOT,
              "%-11s  %s  %5.1f°  %-9s  %s%s",
              it.name(),
              PlanSunCommand.clock(it.at(), zone),
              it.sunAltitudeDegrees(),
              it.ground(),
              it.exposure(),
              off(it)));
    }
    lines.add(
        "Level ground under a clear sky, without a moon; the sky near a low sun meters up to 4.5"
            + " stops more.");
    lines.addAll(warnings());
    lines.add(PlanCommand.SUN_CAUTION);
    lines.add(PlanCommand.NIGHT_CAUTION);
    return lines;
  }

  private long charges() {
    return outline.charges(storage.framesPerCharge());
  }

  private static String off(LapseOutline.Moment moment) {
    double off = moment.brighter().value();
    return Math.abs(off) < 0.2
        ? ""
        : String.format(
            Locale.ROOT, "  (%.1f stops too %s)", Math.abs(off), off > 0 ? "bright" : "dark");
  }

  private List<String> warnings() {
    List<String> warnings = new ArrayList<>();
    for (LapseOutline.Gap gap : outline.gaps()) {
      warnings.add(
          "Warning: from "
              + PlanSunCommand.clock(gap.from(), zone)
              + " to "
              + PlanSunCommand.clock(gap.until(), zone)
              + " "
              + gap.words()
              + (gap.tooDark()
                  ? "; a longer interval, a higher ISO or a wider aperture would help."
                  : "; a smaller aperture or a filter would help."));
    }
    double need = outline.gigabytes(storage.megabytesPerFrame());
    if (storage.cardGigabytes().isPresent() && storage.cardGigabytes().getAsDouble() < need) {
      warnings.add(
          String.format(
              Locale.ROOT,
              "Warning: the card's %.1f GB are less than the %.1f GB that the frames take.",
              storage.cardGigabytes().getAsDouble(),
              need));
    }
    return warnings;
  }

  ObjectNode node() {
    ObjectNode node = PlanJson.object("lapse");
    node.put("from", PlanSunCommand.written(outline.from(), zone));
    node.put("to", PlanSunCommand.written(outline.to(), zone));
    PlanJson.put(node, "intervalSeconds", intervalSeconds());
    node.put("frames", outline.frames());
    ObjectNode clip = node.putObject("clipSeconds");
    for (int rate : RATES) {
      PlanJson.put(clip, "at" + rate, outline.clipSeconds(rate));
    }
    PlanJson.put(node, "cardGigabytes", outline.gigabytes(storage.megabytesPerFrame()));
    node.put("charges", charges());
    PlanJson.put(node, "longestShutterSeconds", longest().nominalSeconds());
    PlanJson.put(node, "fastestStopsPerFrame", outline.fastestPerFrame().value());
    ArrayNode expected = node.putArray("moments");
    for (LapseOutline.Moment it : moments) {
      ObjectNode one = expected.addObject();
      one.put("moment", it.name());
      one.put("at", PlanSunCommand.written(it.at(), zone));
      PlanJson.put(one, "sunAltitudeDegrees", it.sunAltitudeDegrees());
      PlanJson.put(one, "groundEv", it.ground().value());
      PlanJson.put(one, "exposure", it.exposure());
      PlanJson.put(one, "brighterStops", it.brighter().value());
    }
    ArrayNode warned = node.putArray("warnings");
    warnings().forEach(warned::add);
    return node;
  }
}
