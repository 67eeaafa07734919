package org.scenespan.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Share;

/**
 * What frames tell, as lines for a terminal of some width.
 *
 * @param width characters of a line
 * @param blocks whether the terminal shows Unicode's block elements
 * @param tall whether each frame has a histogram of several lines, else of one
 */
record FrameTable(int width, boolean blocks, boolean tall) {
  private static final int HISTOGRAM_LINES = 6;
  private static final int NARROWEST_NAME = 12;
  private static final String NUMBERS = "  %-26s  %5s  %9s  %9s  %6s  %s";
  private static final int NUMBERS_WIDTH = 2 + 26 + 2 + 5 + 2 + 9 + 2 + 9 + 2 + 6 + 2 + 16;

  private int nameWidth() {
    return Math.max(NARROWEST_NAME, Math.min(40, width - NUMBERS_WIDTH));
  }

  String heading() {
    return name("file")
        + String.format(
            Locale.ROOT, NUMBERS, "exposure", "EV", "clipped", "crushed", "median", "source");
  }

  List<String> lines(Path file, FrameReading reading) {
    List<String> lines = new ArrayList<>();
    FrameMeasure measure = reading.measure();
    lines.add(
        name(file.toString())
            + String.format(
                Locale.ROOT,
                NUMBERS,
                reading.metadata().exposure().map(Object::toString).orElse("unknown"),
                reading
                    .metadata()
                    .exposure()
                    .map(exposure -> String.format(Locale.ROOT, "%.1f", exposure.ev().value()))
                    .orElse("-"),
                Telling.percent(measure.clippedShare()),
                Telling.percent(Share.of(measure.crushed().combined(), measure.pixels())),
                String.format(
                    Locale.ROOT, "%+.1f", measure.luminance().percentile(new Share(0.5)).value()),
                measure.source().label()));
    reading.notes().forEach(note -> lines.add("  " + note));
    Bars bars = new Bars(Math.max(Bars.FEWEST, width - 4), blocks);
    bars.rows(measure.luminance(), tall ? HISTOGRAM_LINES : 1)
        .forEach(row -> lines.add("  " + row.stripTrailing()));
    if (tall) {
      lines.add("  " + bars.axis() + "  stops from saturation");
    }
    return lines;
  }

  /** The end of a long name says more than its start. */
  private String name(String name) {
    int room = nameWidth();
    String cut = name.length() <= room ? name : "..." + name.substring(name.length() - room + 3);
    return String.format(Locale.ROOT, "%-" + room + "s", cut);
  }

  /** Raw against JPEG clipping of one press. */
  String pair(Path rawFile, FrameReading raw, Path jpegFile, FrameReading jpeg) {
    double points =
        100 * (jpeg.measure().clippedShare().value() - raw.measure().clippedShare().value());
    return String.format(
        Locale.ROOT,
        "%s clips %s, %s clips %s: %s",
        rawFile.getFileName(),
        Telling.percent(raw.measure().clippedShare()),
        jpegFile.getFileName(),
        Telling.percent(jpeg.measure().clippedShare()),
        points == 0
            ? "alike"
            : points > 0
                ? String.format(Locale.ROOT, "%.4f %% of the pixels only in the JPEG", points)
                : String.format(Locale.ROOT, "the JPEG clips %.4f %% less", -points));
  }
}
