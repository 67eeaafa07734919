package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.DoubleStream;
import org.scenespan.dashboard.RidgeScene.Shot;
import org.scenespan.frame.LogHistogram;

/**
 * A bracket that never was: a ridge before a low sun, four frames, one shot lost on the way. The
 * scene is a formula; its reaches are those of the noise model. Run as a program it writes the
 * journal that the tests read.
 */
final class RidgeSample {
  static final Path JOURNAL = Path.of("src/test/resources/journals/bracket-sample.jsonl");

  private static final double FROM_EV = -6;
  private static final int BINS_PER_STOP = LogHistogram.BINS_PER_STOP;
  private static final int BINS = 29 * BINS_PER_STOP;

  private static final double CLIP_TOLERANCE = 0.0001;
  private static final double SHADOW_TOLERANCE = 0.005;

  private final double[] scene = new RidgeScene().evs();
  private final ObjectMapper mapper = new ObjectMapper();
  private final List<String> lines = new ArrayList<>();
  private Instant now = Instant.parse("2026-11-25T06:55:12.400Z");

  public static void main(String[] args) throws IOException {
    Files.createDirectories(JOURNAL.getParent());
    Files.write(JOURNAL, new RidgeSample().journal(), StandardCharsets.UTF_8);
  }

  /** The whole journal, a line a record. */
  List<String> journal() {
    lines.clear();
    opened();
    record(600, "trigger-greeted", fields("identity", "Reference trigger, simulated"));
    record(200, "scene-metered", fields("ev", 12.0));
    plan(1, Shot.FIRST, "Begins two stops under the meter's EV 12.0, to see the highlights first.");
    take(1, Shot.FIRST, List.of(Shot.FIRST));
    plan(
        2,
        Shot.SECOND,
        "Part of the sky is clipped, so where the highlights end is not known yet: three stops"
            + " darker shows it.");
    record(30, "shot-commanded", with(exposure(Shot.SECOND), "shot", 2, "attempt", 1));
    record(140, "shot-confirmed", fields("shot", 2));
    record(6_000, "shot-lost", fields("shot", 2, "reason", "no frame arrived within 6 s."));
    plan(3, Shot.SECOND, "Shot 2 left no frame: the same exposure is taken again.");
    take(3, Shot.SECOND, List.of(Shot.FIRST, Shot.SECOND));
    plan(
        4,
        Shot.THIRD,
        "The highlights end inside the last frame. Downwards the first frame holds only what is"
            + " above EV 8.1: 8.3 stops brighter carries on below it with a third of a stop to"
            + " spare.");
    take(4, Shot.THIRD, List.of(Shot.FIRST, Shot.SECOND, Shot.THIRD));
    record(
        300,
        "frame-skipped",
        fields("file", "SCN_0003_copy.jpg", "reason", "the file ends before its end mark."));
    plan(
        5,
        Shot.FOURTH,
        "The hollow in the foreground is still below the floor: 30 s is the longest shutter"
            + " allowed, and reaches it.");
    take(5, Shot.FOURTH, List.of(Shot.values()));
    report();
    return List.copyOf(lines);
  }

  private void opened() {
    Map<String, Object> goal = new LinkedHashMap<>();
    goal.put("snr", RidgeScene.SNR);
    goal.put("clipTolerance", CLIP_TOLERANCE);
    goal.put("shadowTolerance", SHADOW_TOLERANCE);
    goal.put("overlapStops", 1 / 3.0);
    goal.put("maxFrames", 12);
    Map<String, Object> limits = new LinkedHashMap<>();
    limits.put("aperture", 8.0);
    limits.put("shortestSeconds", 1 / 8000.0);
    limits.put("longestSeconds", 30.0);
    limits.put("lowestIso", 100);
    limits.put("highestIso", 100);
    Map<String, Object> fields = new LinkedHashMap<>();
    fields.put("version", 1);
    fields.put("kind", "bracket");
    fields.put("session", "2026-11-25T0655-ridge");
    fields.put("program", "scenespan 0.1.0");
    fields.put("source", "simulated: ridge");
    fields.put("trigger", "reference-trigger");
    fields.put("folder", "frames");
    fields.put("goal", goal);
    fields.put("limits", limits);
    fields.put("darkestEv", 19.0);
    fields.put("brightestEv", 1.0);
    record(0, "session-opened", fields);
  }

  private void plan(int shot, Shot planned, String reason) {
    record(90, "shot-planned", with(exposure(planned), "shot", shot, "reason", reason));
  }

  private void take(int shot, Shot taken, List<Shot> all) {
    record(30, "shot-commanded", with(exposure(taken), "shot", shot, "attempt", 1));
    record((long) (150 + taken.exact * 1000), "shot-confirmed", fields("shot", shot));
    record(900, "frame-accepted", accepted(shot, taken));
    record(40, "span-estimated", span(all));
  }

  private static Map<String, Object> exposure(Shot shot) {
    Map<String, Object> exposure = new LinkedHashMap<>();
    exposure.put("shutterSeconds", shot.nominal);
    exposure.put("exactSeconds", shot.exact);
    exposure.put("aperture", 8.0);
    exposure.put("iso", 100);
    exposure.put("ev", round(shot.ev()));
    return fields("exposure", exposure);
  }

  private Map<String, Object> accepted(int shot, Shot taken) {
    double saturation = taken.ev() + RidgeScene.HEADROOM_STOPS;
    double clipped = share(ev -> ev >= saturation);
    double dark = share(ev -> ev < taken.reach().low().value());
    long[] counts = new long[LogHistogram.SATURATED_BIN + 1];
    for (double ev : scene) {
      counts[LogHistogram.binOf(Math.pow(2, ev - saturation))]++;
    }
    Map<String, Object> frame = new LinkedHashMap<>();
    frame.put("file", taken.file());
    frame.put("preview", "preview-" + taken.file());
    frame.put("mask", "mask-" + taken.file().replace(".jpg", ".png"));
    frame.put("format", "jpeg");
    frame.put("width", 6000);
    frame.put("height", 4000);
    frame.put("source", "full");
    frame.put("shutterSeconds", taken.nominal);
    frame.put("aperture", 8.0);
    frame.put("iso", 100);
    frame.put("capturedAt", now.toString());
    frame.put("ev", round(taken.ev()));
    frame.put(
        "clippedFraction",
        fields("red", clipped, "green", clipped, "blue", round(clipped / 2), "any", clipped));
    frame.put(
        "histogramStops",
        fields("from", LogHistogram.FROM_STOPS, "binsPerStop", BINS_PER_STOP, "counts", counts));
    frame.put("sharpness", 0.0123);
    Map<String, Object> fields = new LinkedHashMap<>();
    fields.put("shot", shot);
    fields.put("matched", "capture-time");
    fields.put("late", false);
    fields.put("frame", frame);
    fields.put("reachLowEv", round(taken.reach().low().value()));
    fields.put("reachHighEv", round(taken.reach().high().value()));
    fields.put("clippedFraction", clipped);
    fields.put("belowFloorFraction", dark);
    return fields;
  }

  /** What is known after some frames: beyond them the scene is cut off, and its end a guess. */
  private Map<String, Object> span(List<Shot> taken) {
    double top =
        taken.stream().mapToDouble(s -> s.ev() + RidgeScene.HEADROOM_STOPS).max().orElseThrow();
    double floor = taken.stream().mapToDouble(s -> s.reach().low().value()).min().orElseThrow();
    double bottom = floor - 3;
    double[] known =
        Arrays.stream(scene).map(ev -> Math.max(bottom, Math.min(top, ev))).sorted().toArray();
    double low = known[(int) (SHADOW_TOLERANCE * known.length)];
    double high = known[(int) ((1 - CLIP_TOLERANCE) * known.length) - 1];
    boolean lowIsGuess = low <= bottom;
    boolean highIsGuess = high >= top;
    low = lowIsGuess ? low - 1 : low;
    high = highIsGuess ? high + 1 : high;
    double ceiling = top - RidgeScene.HEADROOM_STOPS + Math.log(0.95 * 100 / 12.7) / Math.log(2);
    double[] shares = new double[BINS];
    for (double ev : known) {
      int bin = (int) Math.floor((ev - FROM_EV) * BINS_PER_STOP);
      shares[Math.max(0, Math.min(BINS - 1, bin))] += 1.0 / known.length;
    }
    Map<String, Object> fields = new LinkedHashMap<>();
    fields.put("spanLowEv", round(low));
    fields.put("spanHighEv", round(high));
    fields.put("openAboveStops", round(Math.max(0, high - ceiling)));
    fields.put("openBelowStops", round(Math.max(0, floor - low)));
    fields.put("lowIsGuess", lowIsGuess);
    fields.put("highIsGuess", highIsGuess);
    fields.put(
        "histogram",
        fields(
            "fromEv",
            FROM_EV,
            "binsPerStop",
            BINS_PER_STOP,
            "shares",
            DoubleStream.of(shares).map(s -> Math.round(s * 1e7) / 1e7).toArray()));
    return fields;
  }

  private void report() {
    Map<String, Object> span = span(List.of(Shot.values()));
    List<Map<String, Object>> frames = new ArrayList<>();
    for (Shot shot : Shot.values()) {
      Map<String, Object> frame = new LinkedHashMap<>();
      frame.put("index", shot.frame);
      frame.put("file", shot.file());
      frame.put("shutterSeconds", shot.nominal);
      frame.put("aperture", 8.0);
      frame.put("iso", 100);
      frame.put("ev", round(shot.ev()));
      frame.put("reachLowEv", round(shot.reach().low().value()));
      frame.put("reachHighEv", round(shot.reach().high().value()));
      frames.add(frame);
    }
    Map<String, Object> fields = new LinkedHashMap<>();
    fields.put("kind", "bracket");
    fields.put("covered", true);
    fields.put("stopped", "covered");
    fields.put(
        "why", "Every part of the span lies in the reach of a frame; the sun's disc was let go.");
    fields.put("spanLowEv", span.get("spanLowEv"));
    fields.put("spanHighEv", span.get("spanHighEv"));
    fields.put("frames", frames);
    fields.put("openAboveStops", 0.0);
    fields.put("openBelowStops", 0.0);
    Instant begun = Instant.parse("2026-11-25T06:55:12.400Z");
    fields.put("elapsedSeconds", Duration.between(begun, now).toMillis() / 1000.0);
    record(80, "report", fields);
  }

  private double share(java.util.function.DoublePredicate which) {
    return round((double) Arrays.stream(scene).filter(which).count() / scene.length);
  }

  private static double round(double value) {
    return Math.round(value * 1e4) / 1e4;
  }

  private static Map<String, Object> with(Map<String, Object> more, Object... pairs) {
    Map<String, Object> fields = fields(pairs);
    fields.putAll(more);
    return fields;
  }

  /** In this order, so that the same file comes out each time. */
  private static Map<String, Object> fields(Object... pairs) {
    Map<String, Object> fields = new LinkedHashMap<>();
    for (int i = 0; i < pairs.length; i += 2) {
      fields.put((String) pairs[i], pairs[i + 1]);
    }
    return fields;
  }

  private void record(long millisLater, String type, Map<String, ?> fields) {
    now = now.plusMillis(millisLater);
    Map<String, Object> record = new LinkedHashMap<>();
    record.put("seq", lines.size() + 1);
    record.put("at", now.toString());
    record.put("type", type);
    record.putAll(fields);
    try {
      lines.add(mapper.writeValueAsString(record));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
