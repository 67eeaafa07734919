package org.scenespan.proof.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Stops;
import org.scenespan.session.Event;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.State;

/** The report of a lapse: its exposures over time, and how far its frames are off. */
final class LapseKind implements Kind {
  /** More rows than this are no reading; the export has every frame. */
  private static final int MOST_ROWS = 300;

  /**
   * Less off than this is no flicker (a just noticeable step of DICOM PS3.14 is 0.011 to 0.016).
   */
  private static final double LEAST_OFF = 0.05;

  private final LapseSetup setup;
  private final Optional<Event.LapseReport> report;
  private final List<Event.FrameMatched> matched;
  private final List<Event.LapseLine> lines;

  LapseKind(State state, LapseSetup setup, List<Event.FrameMatched> matched) {
    this.setup = setup;
    this.matched = matched;
    this.report = state.report().map(it -> it instanceof Event.LapseReport lapse ? lapse : null);
    this.lines = report.map(Event.LapseReport::frames).orElse(List.of());
  }

  @Override
  public List<String> asked() {
    List<String> asked =
        new ArrayList<>(
            List.of(
                "Interval",
                String.format(
                    Locale.ROOT, "%.1f s", setup.cadence().interval().toMillis() / 1000.0),
                "Places on the grid",
                String.valueOf(setup.cadence().frames())));
    report.ifPresent(
        it ->
            asked.addAll(
                List.of(
                    "Frames lost, places skipped",
                    it.framesLost() + ", " + it.placesSkipped(),
                    "Changes of setting",
                    String.valueOf(it.settingChanges()),
                    "Off what was meant",
                    stops(it.rmsErrorStops())
                        + " (root mean square), "
                        + stops(it.largestErrorStops())
                        + " at most",
                    "Flicker as taken",
                    stops(Optional.of(it.sigmaStops())) + " (standard deviation)",
                    "Flicker evened",
                    stops(Optional.of(it.evenedSigmaStops()))
                        + ", "
                        + stops(Optional.of(it.evenedLargestStops()))
                        + " at most")));
    return asked;
  }

  private static String stops(Optional<Stops> stops) {
    return stops
        .map(it -> String.format(Locale.ROOT, "%.4f stop", Math.abs(it.value())))
        .orElse("not known");
  }

  @Override
  public void drawings(Markup page) {
    if (lines.size() < 2) {
      page.text("p", "There is nothing to draw before the end.");
      return;
    }
    int count = lines.size();
    double[] minutes = new double[count];
    double[] ev = new double[count];
    double[] taken = new double[count];
    double[] evened = new double[count];
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    double far = LEAST_OFF;
    for (int i = 0; i < count; i++) {
      Event.LapseLine line = lines.get(i);
      minutes[i] = line.seconds() / 60;
      ev[i] = line.exposure().ev().value();
      low = Math.min(low, ev[i]);
      high = Math.max(high, ev[i]);
      taken[i] = line.errorStops().map(Stops::value).orElse(Double.NaN);
      double gain = line.gainStops().map(Stops::value).orElse(Double.NaN);
      evened[i] = taken[i] + gain;
      far = Double.isNaN(taken[i]) ? far : Math.max(far, Math.min(3, Math.abs(taken[i])));
    }
    Drawing.Side across =
        new Drawing.Side("minutes", minutes[0], Math.max(minutes[0] + 0.1, minutes[count - 1]));
    Drawing.figure(
        page,
        "The exposure of each frame, EV at ISO 100: higher is a brighter scene.",
        240,
        across,
        new Drawing.Side("EV", Math.floor(low - 0.3), Math.ceil(high + 0.3)),
        drawing -> drawing.line("thick", minutes, ev));
    double side = far * 1.1;
    Drawing.figure(
        page,
        "How much brighter each frame is than was meant, in stops: dotted as taken, solid with its"
            + " evening gain.",
        200,
        across,
        new Drawing.Side("stops", -side, side),
        drawing -> {
          drawing.level("ground", 0);
          drawing.line("dotted", minutes, taken);
          drawing.line("thin", minutes, evened);
        });
  }

  @Override
  public List<String> heads() {
    return List.of("Place", "After", "Exposure", "EV", "Meant", "Off", "Gain", "File");
  }

  /** All, or of many every so-manieth. */
  @Override
  public List<List<String>> rows() {
    List<List<String>> rows = new ArrayList<>();
    int step = (lines.size() + MOST_ROWS - 1) / MOST_ROWS;
    for (int i = 0; i < lines.size(); i += Math.max(1, step)) {
      Event.LapseLine line = lines.get(i);
      rows.add(
          List.of(
              String.valueOf(line.index()),
              clock(line.seconds()),
              line.exposure().toString(),
              String.format(Locale.ROOT, "%.2f", line.exposure().ev().value()),
              signed(Optional.of(line.wishStops())),
              signed(line.errorStops()),
              signed(line.gainStops()),
              line.file().orElse("no frame came")));
    }
    return rows;
  }

  private static String clock(double seconds) {
    long whole = Math.round(seconds);
    return String.format(Locale.ROOT, "%d:%02d:%02d", whole / 3600, whole / 60 % 60, whole % 60);
  }

  private static String signed(Optional<Stops> stops) {
    return stops.map(it -> String.format(Locale.ROOT, "%+.3f", it.value())).orElse("");
  }

  @Override
  public List<SheetFrame> frames() {
    List<SheetFrame> sheet = new ArrayList<>();
    for (Event.FrameMatched frame : matched) {
      String taken =
          frame.frame().metadata().exposure().map(Object::toString).orElse("settings not known");
      sheet.add(SheetFrame.of(sheet.size() + 1, frame.frame(), List.of(taken), false));
    }
    return sheet;
  }
}
