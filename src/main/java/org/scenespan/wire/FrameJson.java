package org.scenespan.wire;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.math.BigDecimal;
import java.math.MathContext;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.time.temporal.ChronoField;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.Automatics;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.ClippedAreas;
import org.scenespan.frame.ColourSpace;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;
import org.scenespan.frame.LogHistogram;
import org.scenespan.frame.PixelCounts;
import org.scenespan.frame.SharpnessGrid;
import org.scenespan.light.Aperture;
import org.scenespan.light.Iso;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;

/**
 * A measured frame as JSON: the object that {@code inspect --json} prints, and the {@code frame} of
 * a record.
 */
public final class FrameJson {
  private static final double[] PERCENTILES = {0.1, 1, 50, 99, 99.9};
  private static final DateTimeFormatter WITH_PARTS =
      new DateTimeFormatterBuilder()
          .appendPattern("uuuu-MM-dd'T'HH:mm:ss")
          .appendFraction(ChronoField.NANO_OF_SECOND, 3, 9, true)
          .toFormatter(Locale.ROOT);
  private static final DateTimeFormatter WHOLE =
      DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm:ss", Locale.ROOT);

  private FrameJson() {}

  /** What {@code inspect --json} prints: all that a record has, and the sharpness of parts. */
  public static ObjectNode inspected(FrameReading frame) {
    ObjectNode node = write(frame);
    SharpnessGrid regions = frame.measure().regions().upright(frame.metadata().orientation());
    if (!regions.isNone()) {
      ObjectNode grid = node.putObject("sharpnessRegions");
      grid.put("columns", regions.columns());
      grid.put("lines", regions.lines());
      ArrayNode values = grid.putArray("values");
      for (int line = 0; line < regions.lines(); line++) {
        for (int column = 0; column < regions.columns(); column++) {
          values.add(fourDigits(regions.sharpness(column, line)));
        }
      }
    }
    return node;
  }

  private static double fourDigits(double value) {
    return new BigDecimal(value).round(new MathContext(4)).doubleValue();
  }

  /** A frame as a record has it. */
  public static ObjectNode write(FrameReading frame) {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    FrameMetadata metadata = frame.metadata();
    FrameMeasure measure = frame.measure();
    node.put("file", frame.file());
    frame.companion().ifPresent(name -> node.put("companion", name));
    frame
        .pictures()
        .ifPresent(
            names -> {
              node.put("preview", names.preview());
              node.put("mask", names.mask());
            });
    node.put("format", frame.format());
    node.put("width", measure.width());
    node.put("height", measure.height());
    node.put("source", measure.source().label());
    if (!frame.colour().equals(ColourSpace.SRGB.label())) {
      node.put("colour", frame.colour());
    }
    if (!frame.notes().isEmpty()) {
      frame.notes().forEach(node.putArray("notes")::add);
    }
    frame.replaces().ifPresent(name -> node.put("replaces", name));
    if (!frame.changes().isEmpty()) {
      ChangeJson.write(node.putArray("changes"), frame.changes());
    }
    metadata.camera().ifPresent(camera -> node.put("camera", camera));
    metadata.shutter().ifPresent(it -> node.put("shutterSeconds", Scalars.seconds(it)));
    metadata.aperture().ifPresent(it -> node.put("aperture", Scalars.tidy(it.nominalNumber())));
    metadata.iso().ifPresent(it -> node.put("iso", (long) Math.rint(it.nominalSpeed())));
    metadata
        .compensation()
        .ifPresent(it -> node.put("compensationStops", Scalars.tidy(it.value())));
    metadata.capturedAt().ifPresent(it -> node.put("capturedAt", text(it)));
    node.put("orientation", metadata.orientation());
    metadata.automatics().exposure().ifPresent(it -> node.put("exposureAutomatic", it));
    metadata.automatics().whiteBalance().ifPresent(it -> node.put("whiteBalanceAutomatic", it));
    metadata.exposure().ifPresent(it -> node.put("ev", Scalars.tidy(it.ev().value())));
    node.put("pixels", measure.pixels());
    shares(node.putObject("clippedFraction"), measure.clipped(), measure.pixels(), "any");
    shares(node.putObject("crushedFraction"), measure.crushed(), measure.pixels(), "all");
    counts(node.putObject("clippedPixels"), measure.clipped(), "any");
    counts(node.putObject("crushedPixels"), measure.crushed(), "all");
    ObjectNode percentiles = node.putObject("percentilesStops");
    for (double percent : PERCENTILES) {
      String name = percent == Math.rint(percent) ? "" + (int) percent : "" + percent;
      Stops level = measure.luminance().percentile(new Share(percent / 100));
      percentiles.put(name, Scalars.tidy(level.value()));
    }
    histogram(node.putObject("histogramStops"), measure.luminance());
    ObjectNode channels = node.putObject("channelHistogramsStops");
    channels.put("from", LogHistogram.FROM_STOPS);
    channels.put("binsPerStop", LogHistogram.BINS_PER_STOP);
    bins(channels.putArray("red"), measure.red());
    bins(channels.putArray("green"), measure.green());
    bins(channels.putArray("blue"), measure.blue());
    bins(channels.putArray("brightest"), measure.brightest());
    node.put("sharpness", measure.sharpness());
    ArrayNode areas = node.putArray("clippedPixelsByAreaSize");
    measure.clippedAreas().pixelsBySize().forEach(areas::add);
    return node;
  }

  /**
   * @throws IllegalArgumentException if a field is missing or wrong; the message names it
   */
  static FrameReading read(JsonNode node) {
    JsonNode channels = Nodes.object(node, "channelHistogramsStops");
    FrameMeasure measure =
        new FrameMeasure(
            Nodes.integer(node, "width"),
            Nodes.integer(node, "height"),
            source(Nodes.text(node, "source")),
            node.path("pixels").asLong(),
            counts(Nodes.object(node, "clippedPixels"), "any"),
            counts(Nodes.object(node, "crushedPixels"), "all"),
            bins(channels.path("red")),
            bins(channels.path("green")),
            bins(channels.path("blue")),
            bins(Nodes.object(node, "histogramStops").path("counts")),
            bins(channels.path("brightest")),
            Nodes.number(node, "sharpness"),
            areas(node.path("clippedPixelsByAreaSize")));
    FrameMetadata metadata =
        new FrameMetadata(
            Nodes.optionalNumber(node, "shutterSeconds").map(Shutter::ofNominal),
            Nodes.optionalNumber(node, "aperture").map(Aperture::ofNominal),
            Nodes.optionalNumber(node, "iso").map(Iso::ofNominal),
            Nodes.optionalNumber(node, "compensationStops").map(Stops::new),
            Nodes.optionalText(node, "capturedAt").map(FrameJson::captureTime),
            Nodes.integer(node, "orientation"),
            Nodes.optionalText(node, "camera"),
            new Automatics(flag(node, "exposureAutomatic"), flag(node, "whiteBalanceAutomatic")));
    return new FrameReading(
        Nodes.text(node, "file"),
        Nodes.text(node, "format"),
        metadata,
        measure,
        Nodes.optionalText(node, "companion"),
        pictures(node),
        Nodes.optionalText(node, "colour").orElse(ColourSpace.SRGB.label()),
        notes(node.path("notes")),
        Nodes.optionalText(node, "replaces"),
        ChangeJson.read(node.path("changes")));
  }

  private static Optional<Boolean> flag(JsonNode node, String field) {
    return node.path(field).isBoolean()
        ? Optional.of(node.path(field).asBoolean())
        : Optional.empty();
  }

  private static List<String> notes(JsonNode array) {
    List<String> notes = new ArrayList<>();
    array.forEach(note -> notes.add(note.asText()));
    return notes;
  }

  private static Optional<FrameReading.Pictures> pictures(JsonNode node) {
    return Nodes.optionalText(node, "preview")
        .map(preview -> new FrameReading.Pictures(preview, Nodes.text(node, "mask")));
  }

  private static String text(CaptureTime time) {
    DateTimeFormatter format = time.subSeconds() ? WITH_PARTS : WHOLE;
    return time.local().format(format) + time.offset().map(ZoneOffset::getId).orElse("");
  }

  private static CaptureTime captureTime(String text) {
    boolean parts = text.indexOf('.') >= 0;
    boolean hasOffset = text.matches(".*T.*(Z|[+-]\\d\\d:\\d\\d.*)");
    if (!hasOffset) {
      return new CaptureTime(LocalDateTime.parse(text), Optional.empty(), parts);
    }
    OffsetDateTime time = OffsetDateTime.parse(text);
    return new CaptureTime(time.toLocalDateTime(), Optional.of(time.getOffset()), parts);
  }

  private static FrameSource source(String label) {
    for (FrameSource source : FrameSource.values()) {
      if (source.label().equals(label)) {
        return source;
      }
    }
    throw new IllegalArgumentException("field source (" + label + ") is no known source");
  }

  private static void shares(ObjectNode node, PixelCounts counts, long pixels, String combined) {
    node.put("red", share(counts.red(), pixels));
    node.put("green", share(counts.green(), pixels));
    node.put("blue", share(counts.blue(), pixels));
    node.put(combined, share(counts.combined(), pixels));
  }

  private static double share(long part, long pixels) {
    // Nine digits: one pixel of a thousand million still shows.
    return Math.rint(Share.of(part, pixels).value() * 1e9) / 1e9;
  }

  private static void counts(ObjectNode node, PixelCounts counts, String combined) {
    node.put("red", counts.red());
    node.put("green", counts.green());
    node.put("blue", counts.blue());
    node.put(combined, counts.combined());
  }

  private static PixelCounts counts(JsonNode node, String combined) {
    return new PixelCounts(
        node.path("red").asLong(),
        node.path("green").asLong(),
        node.path("blue").asLong(),
        node.path(combined).asLong());
  }

  private static void histogram(ObjectNode node, LogHistogram histogram) {
    node.put("from", LogHistogram.FROM_STOPS);
    node.put("binsPerStop", LogHistogram.BINS_PER_STOP);
    bins(node.putArray("counts"), histogram);
  }

  private static void bins(ArrayNode array, LogHistogram histogram) {
    for (long count : histogram.counts()) {
      array.add(count);
    }
  }

  private static ClippedAreas areas(JsonNode array) {
    List<Long> pixels = new ArrayList<>();
    array.forEach(size -> pixels.add(size.asLong()));
    return new ClippedAreas(pixels);
  }

  private static LogHistogram bins(JsonNode array) {
    long[] counts = new long[array.size()];
    for (int i = 0; i < counts.length; i++) {
      counts[i] = array.get(i).asLong();
    }
    return LogHistogram.ofCounts(counts);
  }
}
