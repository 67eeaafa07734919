package org.scenespan.cli;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.scenespan.frame.FrameReading;
import org.scenespan.plan.SetReview;
import org.scenespan.plan.ShotFrame;
import org.scenespan.wire.FrameJson;
import org.scenespan.wire.SetJson;

/**
 * A table for a spreadsheet, with the numbers and names of the JSON form: fields between commas,
 * quoted where they must be, quotes doubled (RFC 4180, section 2); lines end as the platform's do.
 *
 * @param sets whether a row is a set, else a file
 */
record CsvListing(PrintWriter out, PrintWriter err, boolean sets) implements FrameListing {
  /** Column and where its value lies in the JSON form. */
  private enum Column {
    FILE("file", "/file"),
    ERROR("error", "/error"),
    FORMAT("format", "/format"),
    SOURCE("source", "/source"),
    CAMERA("camera", "/camera"),
    CAPTURED_AT("capturedAt", "/capturedAt"),
    WIDTH("width", "/width"),
    HEIGHT("height", "/height"),
    SHUTTER("shutterSeconds", "/shutterSeconds"),
    APERTURE("aperture", "/aperture"),
    ISO("iso", "/iso"),
    COMPENSATION("compensationStops", "/compensationStops"),
    EV("ev", "/ev"),
    CLIPPED("clipped", "/clippedFraction/any"),
    CLIPPED_RED("clippedRed", "/clippedFraction/red"),
    CLIPPED_GREEN("clippedGreen", "/clippedFraction/green"),
    CLIPPED_BLUE("clippedBlue", "/clippedFraction/blue"),
    CRUSHED("crushed", "/crushedFraction/all"),
    DARKEST("percentile0.1Stops", "/percentilesStops/0.1"),
    DARK("percentile1Stops", "/percentilesStops/1"),
    MEDIAN("medianStops", "/percentilesStops/50"),
    BRIGHT("percentile99Stops", "/percentilesStops/99"),
    BRIGHTEST("percentile99.9Stops", "/percentilesStops/99.9"),
    SHARPNESS("sharpness", "/sharpness"),
    COMPANION("companion", "/companion");

    private final String title;
    private final String pointer;

    Column(String title, String pointer) {
      this.title = title;
      this.pointer = pointer;
    }
  }

  private static final String SET_TITLES =
      "firstFile,lastFile,frames,camera,spanLowEv,spanHighEv,covered,lostAboveStops,lostAboveShare,"
          + "lostBetweenStops,lostBetweenShare,lostBelowStops,lostBelowShare,wouldHaveTaken,notNeeded";

  @Override
  public void start() {
    out.println(
        sets
            ? SET_TITLES
            : List.of(Column.values()).stream()
                .map(column -> column.title)
                .collect(Collectors.joining(",")));
  }

  @Override
  public void frame(Path file, FrameReading reading) {
    if (!sets) {
      JsonNode node = FrameJson.inspected(reading);
      row(column -> column == Column.FILE ? file.toString() : node.at(column.pointer).asText());
    }
  }

  @Override
  public void failed(Path file, String error) {
    if (sets) {
      err.println("scenespan: " + file + ": " + error);
      err.flush();
    } else {
      row(column -> column == Column.FILE ? file.toString() : column == Column.ERROR ? error : "");
    }
  }

  private void row(Function<Column, String> value) {
    List<String> fields = new ArrayList<>();
    for (Column column : Column.values()) {
      fields.add(value.apply(column));
    }
    write(fields);
  }

  @Override
  public void set(List<ShotFrame> frames, SetReview review) {
    if (!sets) {
      return;
    }
    JsonNode node = SetJson.write(frames, review);
    List<String> fields = new ArrayList<>();
    fields.add(frames.get(0).file());
    fields.add(frames.get(frames.size() - 1).file());
    fields.add(Integer.toString(frames.size()));
    List.of("camera", "spanLowEv", "spanHighEv", "covered")
        .forEach(name -> fields.add(node.path(name).asText()));
    for (SetReview.Where where : SetReview.Where.values()) {
      double stops = 0;
      double share = 0;
      for (JsonNode loss : node.path("lost")) {
        if (loss.path("where").asText().equals(where.label())) {
          stops = Math.max(stops, loss.path("stops").asDouble());
          share += loss.path("share").asDouble();
        }
      }
      fields.add(Double.toString(stops));
      fields.add(Double.toString(share));
    }
    fields.add(
        review.missing().stream()
            .map(missing -> missing.exposure().toString())
            .collect(Collectors.joining("; ")));
    fields.add(
        review.needless().stream()
            .map(place -> frames.get(place).file())
            .collect(Collectors.joining("; ")));
    write(fields);
  }

  private void write(List<String> fields) {
    out.println(fields.stream().map(CsvListing::quoted).collect(Collectors.joining(",")));
  }

  static String quoted(String field) {
    return field.chars().anyMatch(c -> c == ',' || c == '"' || c == '\n' || c == '\r')
        ? '"' + field.replace("\"", "\"\"") + '"'
        : field;
  }
}
