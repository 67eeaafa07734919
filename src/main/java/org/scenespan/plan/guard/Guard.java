package org.scenespan.plan.guard;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.light.Share;

/**
 * Holds frames against a reference frame. Pure.
 *
 * @param levels from where on a deviation is told
 */
public record Guard(Levels levels) {
  /** How many frames before tell what is usual. */
  public static final int MEMORY = 24;

  /** With fewer frames there is no usual. */
  private static final int LEAST_USUAL = 5;

  /** A frame further from the others than this many deviations stands alone. */
  private static final double ALONE = 4;

  /** A good flash repeats within this, stops: a steadier past is luck. */
  private static final double STEADIEST = 0.02;

  /**
   * What there is to say of a frame, the worst first; empty where it is as the reference.
   *
   * @param reference the reference frame itself
   * @param before the frames since it, the oldest first; not this one
   */
  public List<Finding> judge(Watched reference, List<Watched> before, Watched frame) {
    List<Watched> memory = before.subList(Math.max(0, before.size() - MEMORY), before.size());
    List<Finding> findings = new ArrayList<>();
    settings(reference.metadata(), frame.metadata()).ifPresent(findings::add);
    clipping(reference.measure(), frame.measure()).ifPresent(findings::add);
    sharpness(reference, memory, frame).ifPresent(findings::add);
    if (frame.deviation().isEmpty()) {
      findings.add(
          new Finding(
              Finding.Kind.UNLIKE,
              Finding.Weight.WARNING,
              0,
              "It cannot be held against the reference frame: another shape, or nothing in"
                  + " common."));
    } else {
      deviation(frame.deviation().get(), memory, findings);
    }
    findings.sort((one, other) -> other.weight().compareTo(one.weight()));
    return List.copyOf(findings);
  }

  private void deviation(Deviation deviation, List<Watched> memory, List<Finding> findings) {
    double usualWhole = usual(memory, it -> it.whole().value());
    double drop = deviation.whole().value() - usualWhole;
    if (deviation.band().isPresent()) {
      Deviation.Band band = deviation.band().get();
      findings.add(
          finding(
              Finding.Kind.BAND,
              Finding.Weight.ALARM,
              -band.drop().value(),
              "A dark band from the %s edge over %.0f %% of the picture, %.1f stops down: the"
                  + " shutter may be faster than the flash can follow.",
              band.edge().label(),
              100 * band.part().value(),
              band.drop().value()));
      return;
    }
    if (drop <= Levels.MISFIRE.value()) {
      findings.add(
          finding(
              Finding.Kind.MISFIRE,
              Finding.Weight.ALARM,
              drop,
              "The whole frame is %.1f stops darker than those before: a flash may not have"
                  + " fired.",
              -drop));
      return;
    }
    if (!deviation.patchSeen()) {
      findings.add(
          finding(
              Finding.Kind.PATCH,
              Finding.Weight.WARNING,
              0,
              "The patch is not seen in this frame: covered, or moved too far."));
      return;
    }
    exposure(deviation, memory).ifPresent(findings::add);
    colour(deviation).ifPresent(findings::add);
    trend(deviation, memory).ifPresent(findings::add);
  }

  private Optional<Finding> exposure(Deviation deviation, List<Watched> memory) {
    double stops = deviation.exposure().value();
    Finding.Weight weight = levels.exposure().of(Math.abs(stops));
    if (weight == Finding.Weight.NONE) {
      return Optional.empty();
    }
    String place = deviation.patch().isPresent() ? "The patch" : "The picture";
    return Optional.of(
        finding(
            Finding.Kind.EXPOSURE,
            weight,
            stops,
            "%s is %.2f stops %s than in the reference frame%s.",
            place,
            Math.abs(stops),
            stops > 0 ? "brighter" : "darker",
            standsAlone(stops, memory) ? "; this frame alone, those before were not" : ""));
  }

  private static boolean standsAlone(double stops, List<Watched> memory) {
    double[] before = values(memory, it -> it.exposure().value());
    return before.length >= LEAST_USUAL
        && Math.abs(stops - Robust.median(before))
            > ALONE * Math.max(STEADIEST, Robust.deviation(before));
  }

  private Optional<Finding> colour(Deviation deviation) {
    double red = deviation.redToGreen();
    double blue = deviation.blueToGreen();
    double worst = Math.abs(red) >= Math.abs(blue) ? red : blue;
    Finding.Weight weight = levels.colour().of(Math.abs(worst));
    return weight == Finding.Weight.NONE
        ? Optional.empty()
        : Optional.of(
            finding(
                Finding.Kind.COLOUR,
                weight,
                worst,
                "The colour has changed: red %+.1f %%, blue %+.1f %% against green.",
                100 * red,
                100 * blue));
  }

  private Optional<Finding> trend(Deviation deviation, List<Watched> memory) {
    List<Double> way = new ArrayList<>();
    for (double value : values(memory, it -> it.exposure().value())) {
      way.add(value);
    }
    way.add(deviation.exposure().value());
    return Trend.of(way, levels.exposure().warn())
        .map(
            trend ->
                finding(
                    Finding.Kind.TREND,
                    Finding.Weight.WARNING,
                    trend.perFrame(),
                    "The light %s by %.3f stop a frame, over %d frames: a lamp that warms up, or"
                        + " a flash whose battery sinks.",
                    trend.perFrame() > 0 ? "rises" : "sinks",
                    Math.abs(trend.perFrame()),
                    trend.frames()));
  }

  private Optional<Finding> clipping(FrameMeasure reference, FrameMeasure frame) {
    String worst = "";
    double most = Double.NEGATIVE_INFINITY;
    Finding.Weight weight = Finding.Weight.NONE;
    String[] names = {"Red", "Green", "Blue"};
    Share[] before = channels(reference);
    Share[] now = channels(frame);
    for (int channel = 0; channel < names.length; channel++) {
      double more = now[channel].value() - before[channel].value();
      if (more > most) {
        most = more;
        worst = names[channel];
        weight = levels.clipping(now[channel], before[channel]);
      }
    }
    return weight == Finding.Weight.NONE
        ? Optional.empty()
        : Optional.of(
            finding(
                Finding.Kind.CLIPPING,
                weight,
                most,
                "%s clips on %.2f %% more of the picture than in the reference frame.",
                worst,
                100 * most));
  }

  private static Share[] channels(FrameMeasure measure) {
    return new Share[] {
      Share.of(measure.clipped().red(), measure.pixels()),
      Share.of(measure.clipped().green(), measure.pixels()),
      Share.of(measure.clipped().blue(), measure.pixels())
    };
  }

  /** Of the patch where that holds detail, so that what is behind it makes up for nothing. */
  private Optional<Finding> sharpness(Watched reference, List<Watched> memory, Watched frame) {
    Optional<Double> patch = frame.deviation().flatMap(Deviation::patchSharpness);
    List<Double> all = new ArrayList<>();
    if (patch.isPresent()) {
      all.add(1.0);
      memory.forEach(it -> it.deviation().flatMap(Deviation::patchSharpness).ifPresent(all::add));
    } else {
      all.add(reference.measure().sharpness());
      memory.forEach(it -> all.add(it.measure().sharpness()));
    }
    double usual = Robust.median(all.stream().mapToDouble(Double::doubleValue).toArray());
    if (!(usual > 0)) {
      return Optional.empty();
    }
    double lost = 1 - patch.orElse(frame.measure().sharpness()) / usual;
    Finding.Weight weight = levels.sharpness().of(lost);
    return weight == Finding.Weight.NONE
        ? Optional.empty()
        : Optional.of(
            finding(
                Finding.Kind.SHARPNESS,
                weight,
                -lost,
                "%s is less sharp than the session's median, by %.0f %%: focus, or movement.",
                patch.isPresent() ? "The patch" : "It",
                100 * lost));
  }

  private static Optional<Finding> settings(FrameMetadata reference, FrameMetadata frame) {
    List<String> changed = new ArrayList<>();
    change("shutter", reference.shutter(), frame.shutter(), changed);
    change("aperture", reference.aperture(), frame.aperture(), changed);
    change("ISO", reference.iso(), frame.iso(), changed);
    return changed.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Finding(
                Finding.Kind.SETTINGS,
                Finding.Weight.ALARM,
                changed.size(),
                "Set otherwise than the reference frame: " + String.join(", ", changed) + "."));
  }

  private static <T> void change(
      String name, Optional<T> before, Optional<T> now, List<String> changed) {
    if (before.isPresent() && now.isPresent()) {
      String was = before.get().toString();
      String is = now.get().toString();
      if (!was.equals(is)) {
        changed.add(name + " " + is + " instead of " + was);
      }
    }
  }

  private static double usual(List<Watched> memory, ToDoubleFunction<Deviation> part) {
    double[] values = values(memory, part);
    return values.length == 0 ? 0 : Robust.median(values);
  }

  private static double[] values(List<Watched> memory, ToDoubleFunction<Deviation> part) {
    return memory.stream()
        .flatMap(it -> it.deviation().stream())
        .filter(it -> it.band().isEmpty() && it.patchSeen())
        .mapToDouble(part)
        .toArray();
  }

  private static Finding finding(
      Finding.Kind kind, Finding.Weight weight, double amount, String words, Object... values) {
    return new Finding(kind, weight, amount, String.format(Locale.ROOT, words, values));
  }
}
