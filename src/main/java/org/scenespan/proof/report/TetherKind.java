package org.scenespan.proof.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Stops;
import org.scenespan.plan.guard.Finding;
import org.scenespan.session.Event;
import org.scenespan.session.Mark;
import org.scenespan.session.State;
import org.scenespan.session.TetherSetup;

/** The report of a tether: how far each frame is from the reference frame. */
final class TetherKind implements Kind {
  private final State state;
  private final TetherSetup setup;
  private final List<Event.FrameWatched> frames;

  TetherKind(State state, TetherSetup setup) {
    this.state = state;
    this.setup = setup;
    this.frames = state.tether().frames();
  }

  @Override
  public List<String> asked() {
    return List.of(
        "Reference frame",
        state.tether().reference().map(Event.ReferenceMarked::file).orElse("none was marked"),
        "Exposure told from",
        String.format(
            Locale.ROOT,
            "%.2f stop, an alarm from %.2f",
            setup.levels().exposure().warn(),
            setup.levels().exposure().alarm()),
        "Colour told from",
        String.format(
            Locale.ROOT,
            "%.1f %%, an alarm from %.1f %%",
            setup.levels().colour().warn() * 100,
            setup.levels().colour().alarm() * 100));
  }

  @Override
  public void drawings(Markup page) {
    if (frames.size() < 2) {
      return;
    }
    double[] xs = new double[frames.size()];
    double[] exposure = new double[frames.size()];
    double[] red = new double[frames.size()];
    double[] blue = new double[frames.size()];
    double far = setup.levels().exposure().alarm() * 1.5;
    double farColour = setup.levels().colour().alarm() * 150;
    for (int i = 0; i < frames.size(); i++) {
      Event.FrameWatched frame = frames.get(i);
      xs[i] = frame.index();
      exposure[i] = frame.deviation().map(it -> it.exposure().value()).orElse(Double.NaN);
      red[i] = frame.deviation().map(it -> it.redToGreen() * 100).orElse(Double.NaN);
      blue[i] = frame.deviation().map(it -> it.blueToGreen() * 100).orElse(Double.NaN);
      far = Math.max(far, Double.isNaN(exposure[i]) ? 0 : Math.min(3, Math.abs(exposure[i])));
      farColour = Math.max(farColour, Double.isNaN(red[i]) ? 0 : Math.min(40, Math.abs(red[i])));
      farColour = Math.max(farColour, Double.isNaN(blue[i]) ? 0 : Math.min(40, Math.abs(blue[i])));
    }
    double stops = far * 1.1;
    double parts = farColour * 1.1;
    Drawing.Side across = new Drawing.Side("frame", 1, Math.max(2, frames.size()));
    Drawing.figure(
        page,
        "How much brighter each frame is than the reference frame, in stops; dashed: from where an"
            + " alarm is given. What is beyond 3 stops is drawn at the edge.",
        200,
        across,
        new Drawing.Side("stops", -stops, stops),
        drawing -> {
          levels(drawing, setup.levels().exposure().alarm());
          drawing.line("thin", xs, exposure);
          for (int i = 0; i < xs.length; i++) {
            if (!frames.get(i).findings().isEmpty() && !Double.isNaN(exposure[i])) {
              drawing.dot("told", xs[i], exposure[i]);
            }
          }
        });
    Drawing.figure(
        page,
        "Red against green (solid) and blue against green (dotted), in percent of the reference"
            + " frame's; dashed: from where an alarm is given.",
        200,
        across,
        new Drawing.Side("%", -parts, parts),
        drawing -> {
          levels(drawing, setup.levels().colour().alarm() * 100);
          drawing.line("thin", xs, red);
          drawing.line("dotted", xs, blue);
        });
  }

  private static void levels(Drawing drawing, double alarm) {
    drawing.level("edge", alarm);
    drawing.level("edge", -alarm);
    drawing.level("ground", 0);
  }

  @Override
  public List<String> heads() {
    return List.of("Frame", "Settings", "Exposure", "Red", "Blue", "Mark", "To look at", "File");
  }

  @Override
  public List<List<String>> rows() {
    List<List<String>> rows = new ArrayList<>();
    for (Event.FrameWatched frame : frames) {
      Event.FrameMarked mark = state.tether().marks().get(frame.frame().file());
      rows.add(
          List.of(
              String.valueOf(frame.index()),
              frame.frame().metadata().exposure().map(Object::toString).orElse("not known"),
              stops(frame.deviation().map(it -> it.exposure())),
              parts(frame.deviation().map(it -> it.redToGreen())),
              parts(frame.deviation().map(it -> it.blueToGreen())),
              mark == null || mark.mark() == Mark.NONE ? "" : mark.mark().label(),
              words(frame),
              frame.frame().file()));
    }
    return rows;
  }

  private static String words(Event.FrameWatched frame) {
    return String.join(" ", frame.findings().stream().map(Finding::words).toList());
  }

  private static String stops(Optional<Stops> stops) {
    return stops.map(it -> String.format(Locale.ROOT, "%+.2f", it.value())).orElse("");
  }

  private static String parts(Optional<Double> parts) {
    return parts.map(it -> String.format(Locale.ROOT, "%+.1f %%", it * 100)).orElse("");
  }

  @Override
  public List<SheetFrame> frames() {
    List<SheetFrame> sheet = new ArrayList<>();
    for (Event.FrameWatched frame : frames) {
      List<String> lines = new ArrayList<>();
      frame.deviation().ifPresent(it -> lines.add(stops(Optional.of(it.exposure())) + " stops"));
      frame.findings().forEach(finding -> lines.add(finding.words()));
      Event.FrameMarked mark = state.tether().marks().get(frame.frame().file());
      if (mark != null && (mark.mark() != Mark.NONE || !mark.note().isEmpty())) {
        lines.add((mark.mark() == Mark.NONE ? "" : mark.mark().label() + " ") + mark.note());
      }
      sheet.add(SheetFrame.of(frame.index(), frame.frame(), lines, !frame.findings().isEmpty()));
    }
    return sheet;
  }
}
