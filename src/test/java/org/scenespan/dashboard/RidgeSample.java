package org.scenespan.dashboard;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
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
import java.util.Optional;
import java.util.Random;
import java.util.stream.DoubleStream;
import javax.imageio.ImageIO;
import org.scenespan.frame.LogHistogram;
import org.scenespan.frame.NoiseModel;
import org.scenespan.frame.Reach;
import org.scenespan.light.Aperture;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Shutter;

/**
 * A bracket that never was: a ridge before a low sun, four frames, one shot lost on the way. The
 * scene is a formula; its reaches are those of the noise model. Run as a program it writes the
 * journal that the tests read.
 */
final class RidgeSample implements Pictures {
  static final Path JOURNAL = Path.of("src/test/resources/journals/bracket-sample.jsonl");

  private static final int WIDE = 720;
  private static final int TALL = 480;
  private static final double SNR = 10;
  private static final double FROM_EV = -6;
  private static final int BINS_PER_STOP = LogHistogram.BINS_PER_STOP;
  private static final int BINS = 29 * BINS_PER_STOP;

  /** EV of mid grey to EV of saturation: log2(100 / 12.7), ISO 12232. */
  private static final double HEADROOM_STOPS = Math.log(100 / 12.7) / Math.log(2);

  private static final double CLIP_TOLERANCE = 0.0001;
  private static final double SHADOW_TOLERANCE = 0.005;

  /** Frame number and shutter seconds, exact and nominal, of each frame. */
  private enum Shot {
    FIRST(1, 1 / 256.0, 0.004),
    SECOND(2, 1 / 2048.0, 0.0005),
    THIRD(3, Math.cbrt(2), 1.3),
    FOURTH(4, 32, 30);

    final int frame;
    final double exact;
    final double nominal;

    Shot(int frame, double exact, double nominal) {
      this.frame = frame;
      this.exact = exact;
      this.nominal = nominal;
    }

    double ev() {
      return 6 - Math.log(exact) / Math.log(2);
    }

    Reach reach() {
      return NoiseModel.TYPICAL.reach(
          new Exposure(new Shutter(exact), new Aperture(8), new Iso(100)), SNR);
    }

    String file() {
      return "SCN_%04d.jpg".formatted(frame);
    }
  }

  private final double[] scene = new double[WIDE * TALL];
  private final ObjectMapper mapper = new ObjectMapper();
  private final List<String> lines = new ArrayList<>();
  private Instant now = Instant.parse("2026-11-25T06:55:12.400Z");

  RidgeSample() {
    for (int y = 0; y < TALL; y++) {
      for (int x = 0; x < WIDE; x++) {
        scene[y * WIDE + x] = evAt((x + 0.5) / WIDE, (y + 0.5) / TALL);
      }
    }
  }

  public static void main(String[] args) throws IOException {
    Files.createDirectories(JOURNAL.getParent());
    Files.write(JOURNAL, new RidgeSample().journal(), StandardCharsets.UTF_8);
  }

  /** The scene's brightness, EV at ISO 100, at a point of the picture; (0, 0) is top left. */
  private static double evAt(double u, double v) {
    double toSun = Math.hypot((u - 0.66) * 1.5, v - 0.40);
    double ridge = 0.47 + 0.06 * waves(u * 2.1 + 4) - 0.09 * Math.exp(-sq((u - 0.36) / 0.12));
    double nearer = 0.60 + 0.05 * waves(u * 1.7 + 11) + 0.10 * sq(u - 0.55);
    double bank = 0.78 + 0.04 * waves(u * 2.9 + 7) - 0.12 * Math.exp(-sq((u - 0.05) / 0.22));
    double grain = 0.35 * waves(u * 31 + v * 17) + 0.3 * waves(v * 43 - u * 23);
    // Mist joins the layers: nothing in a landscape ends at one brightness.
    if (v > bank) {
      double hollow = Math.exp(-sq((u - 0.72) / 0.2) - sq((v - 0.96) / 0.14));
      return 4.2 - 3.2 * (v - bank) / (1 - bank) - 3.4 * hollow + 1.6 * grain;
    }
    if (v > nearer) {
      return 8.6 + 1.1 * grain - 3.6 * (v - nearer) / 0.2;
    }
    if (v > ridge) {
      return 9.6 + 0.9 * grain + 3.4 * Math.exp(-toSun / 0.16) + 8 * Math.max(0, v - ridge - 0.06);
    }
    double sky =
        11.8
            + 2.6 * (v / 0.5)
            + 0.5 * grain * sq(v / 0.5)
            + 4.3 * Math.exp(-toSun / 0.11)
            + 0.12 * waves(v * 26 + u * 3);
    return toSun < 0.0035 ? 22 : Math.min(19.2, sky);
  }

  private static double sq(double x) {
    return x * x;
  }

  private static double waves(double t) {
    return (Math.sin(t * 3.1) + 0.6 * Math.sin(t * 7.7 + 1) + 0.35 * Math.sin(t * 17.3 + 2)) / 1.95;
  }

  /** The whole journal, a line a record. */
  List<String> journal() {
    lines.clear();
    opened();
    record(600, "trigger-greeted", Map.of("identity", "Reference trigger, simulated"));
    record(200, "scene-metered", Map.of("ev", 12.0));
    plan(1, Shot.FIRST, "Begins two stops under the meter's EV 12.0, to see the highlights first.");
    take(1, Shot.FIRST, List.of(Shot.FIRST));
    plan(
        2,
        Shot.SECOND,
        "Part of the sky is clipped, so where the highlights end is not known yet: three stops"
            + " darker shows it.");
    record(30, "shot-commanded", with(exposure(Shot.SECOND), "shot", 2, "attempt", 1));
    record(140, "shot-confirmed", Map.of("shot", 2));
    record(6_000, "shot-lost", Map.of("shot", 2, "reason", "no frame arrived within 6 s."));
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
        Map.of("file", "SCN_0003_copy.jpg", "reason", "the file ends before its end mark."));
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
    goal.put("snr", SNR);
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
    record((long) (150 + taken.exact * 1000), "shot-confirmed", Map.of("shot", shot));
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
    return Map.of("exposure", exposure);
  }

  private Map<String, Object> accepted(int shot, Shot taken) {
    double saturation = taken.ev() + HEADROOM_STOPS;
    double clipped = share(ev -> ev >= saturation);
    double dark = share(ev -> ev < taken.reach().low().value());
    long[] counts = new long[LogHistogram.SATURATED_BIN + 1];
    for (double ev : scene) {
      counts[LogHistogram.binOf(Math.pow(2, ev - saturation))]++;
    }
    Map<String, Object> frame = new LinkedHashMap<>();
    frame.put("file", taken.file());
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
        Map.of("red", clipped, "green", clipped, "blue", round(clipped / 2), "any", clipped));
    frame.put(
        "histogramStops",
        Map.of("from", LogHistogram.FROM_STOPS, "binsPerStop", BINS_PER_STOP, "counts", counts));
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
    fields.put("preview", "preview-" + taken.file());
    fields.put("mask", "mask-" + taken.file().replace(".jpg", ".png"));
    return fields;
  }

  /** What is known after some frames: beyond them the scene is cut off, and its end a guess. */
  private Map<String, Object> span(List<Shot> taken) {
    double top = taken.stream().mapToDouble(s -> s.ev() + HEADROOM_STOPS).max().orElseThrow();
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
    double ceiling = top - HEADROOM_STOPS + Math.log(0.95 * 100 / 12.7) / Math.log(2);
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
        Map.of(
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
    Map<String, Object> fields = new LinkedHashMap<>();
    for (int i = 0; i < pairs.length; i += 2) {
      fields.put((String) pairs[i], pairs[i + 1]);
    }
    fields.putAll(more);
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

  @Override
  public Optional<byte[]> named(String name) {
    for (Shot shot : Shot.values()) {
      if (name.equals("preview-" + shot.file())) {
        return Optional.of(encode(preview(shot), "jpg"));
      }
      if (name.equals("mask-" + shot.file().replace(".jpg", ".png"))) {
        return Optional.of(encode(mask(shot), "png"));
      }
    }
    return Optional.empty();
  }

  private BufferedImage preview(Shot shot) {
    Random random = new Random(shot.frame);
    BufferedImage image = new BufferedImage(WIDE, TALL, BufferedImage.TYPE_INT_RGB);
    for (int y = 0; y < TALL; y++) {
      for (int x = 0; x < WIDE; x++) {
        double ev = scene[y * WIDE + x];
        double electrons = 50_000 * Math.pow(2, ev - shot.ev() - HEADROOM_STOPS);
        double noisy = electrons + random.nextGaussian() * Math.sqrt(electrons + 9);
        // Bright parts of this scene are warm, dark ones cool.
        double warm = Math.max(-1, Math.min(1, (ev - 9) / 8));
        image.setRGB(
            x,
            y,
            code(noisy * (1 + 0.25 * warm)) << 16
                | code(noisy) << 8
                | code(noisy * (1 - 0.3 * warm)));
      }
    }
    return image;
  }

  /** sRGB (IEC 61966-2-1) code of electrons. */
  private static int code(double electrons) {
    double linear = Math.max(0, Math.min(1, electrons / 50_000));
    double encoded =
        linear <= 0.0031308 ? 12.92 * linear : 1.055 * Math.pow(linear, 1 / 2.4) - 0.055;
    return (int) Math.round(255 * encoded);
  }

  private BufferedImage mask(Shot shot) {
    BufferedImage image = new BufferedImage(WIDE, TALL, BufferedImage.TYPE_INT_ARGB);
    for (int i = 0; i < scene.length; i++) {
      boolean clipped = scene[i] >= shot.ev() + HEADROOM_STOPS;
      image.setRGB(i % WIDE, i / WIDE, clipped ? 0xFFFFFFFF : 0);
    }
    return image;
  }

  private static byte[] encode(BufferedImage image, String format) {
    try {
      ByteArrayOutputStream out = new ByteArrayOutputStream();
      ImageIO.write(image, format, out);
      return out.toByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
