package org.scenespan.proof.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.light.Share;
import org.scenespan.plan.SceneHistogram;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Event;
import org.scenespan.session.State;

/** The report of a bracket: the reach of its frames, and the signal-to-noise of the set. */
final class BracketKind implements Kind {
  private static final double BAR = 20;
  private static final double HISTOGRAM = 90;

  private final State state;
  private final BracketSetup setup;
  private final Optional<Event.BracketReport> report;

  BracketKind(State state) {
    this.state = state;
    this.setup = state.bracket();
    this.report =
        state.report().map(it -> it instanceof Event.BracketReport bracket ? bracket : null);
  }

  @Override
  public List<String> asked() {
    return List.of(
        "Signal-to-noise asked for",
        String.format(Locale.ROOT, "%.0f", setup.goal().snr()),
        "Bright part that may be let go",
        percent(setup.goal().clipTolerance()),
        "Dark part that may be let go",
        percent(setup.goal().shadowTolerance()),
        "Within",
        setup.latitude().toString());
  }

  @Override
  public void drawings(Markup page) {
    if (!state.frames().isEmpty()) {
      reaches(page);
    }
    report.filter(it -> it.coverage().size() > 1).ifPresent(it -> coverage(page, it));
  }

  private void reaches(Markup page) {
    List<Event.FrameAccepted> frames = state.frames();
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (Event.FrameAccepted frame : frames) {
      low = Math.min(low, frame.reachLowEv().value());
      high = Math.max(high, frame.reachHighEv().value());
    }
    if (report.isPresent() && report.get().spanLowEv().isPresent()) {
      low = Math.min(low, report.get().spanLowEv().get().value());
      high = Math.max(high, report.get().spanHighEv().map(Ev::value).orElse(high));
    }
    String span =
        report
            .filter(it -> it.spanLowEv().isPresent() && it.spanHighEv().isPresent())
            .map(
                it ->
                    String.format(
                        Locale.ROOT,
                        " The scene spans %s to %s, drawn as the dashed lines.",
                        it.spanLowEv().get(),
                        it.spanHighEv().get()))
            .orElse("");
    double floor = Math.floor(low - 0.3);
    double roof = Math.ceil(high + 0.3);
    int rows = frames.size();
    Drawing.figure(
        page,
        "The reach of each frame, from the darkest part that it holds at the asked"
            + " signal-to-noise to the brightest that it does not clip."
            + span,
        rows * BAR + 60,
        new Drawing.Side("scene brightness, EV at ISO 100", floor, roof),
        new Drawing.Side("", 0, rows),
        drawing -> {
          for (int i = 0; i < rows; i++) {
            Event.FrameAccepted frame = frames.get(i);
            drawing.bar(
                "reach",
                frame.reachLowEv().value(),
                frame.reachHighEv().value(),
                rows - i - 0.5,
                BAR - 6,
                (i + 1) + ": " + frame.exposure());
          }
          report.ifPresent(
              it -> {
                it.spanLowEv().ifPresent(ev -> upright(drawing, ev, rows));
                it.spanHighEv().ifPresent(ev -> upright(drawing, ev, rows));
              });
        });
    scene(page, floor, roof);
  }

  private static void upright(Drawing drawing, Ev ev, double rows) {
    drawing.line("edge", new double[] {ev.value(), ev.value()}, new double[] {0, rows});
  }

  /** The scene's luminance, put together from all frames. */
  private void scene(Markup page, double floor, double roof) {
    if (state.span().isEmpty() || state.span().get().histogram().shares().isEmpty()) {
      return;
    }
    SceneHistogram scene = state.span().get().histogram();
    int bins = scene.shares().size();
    double[] xs = new double[bins + 1];
    double[] ys = new double[bins + 1];
    double most = 0;
    for (int bin = 0; bin <= bins; bin++) {
      xs[bin] = scene.fromEv().value() + (double) bin / scene.binsPerStop();
      // The square root, so that small parts of the picture are seen too.
      ys[bin] = bin < bins ? Math.sqrt(scene.shares().get(bin)) : 0;
      most = Math.max(most, ys[bin]);
    }
    double top = most > 0 ? most : 1;
    Drawing.figure(
        page,
        "The scene's luminance, put together from all frames: the square root of the share of the"
            + " picture at each brightness.",
        HISTOGRAM + 50,
        new Drawing.Side("scene brightness, EV at ISO 100", floor, roof),
        new Drawing.Side("", 0, top),
        drawing -> drawing.columns("counts", xs, ys));
  }

  private void coverage(Markup page, Event.BracketReport it) {
    int points = it.coverage().size();
    double[] xs = new double[points];
    double[] best = new double[points];
    double[] merged = new double[points];
    double asked = log2(setup.goal().snr());
    double low = asked - 2;
    double high = asked + 2;
    for (int i = 0; i < points; i++) {
      Event.CoveragePoint point = it.coverage().get(i);
      xs[i] = point.ev().value();
      best[i] = point.best() > 0 ? log2(point.best()) : Double.NaN;
      merged[i] = point.merged() > 0 ? log2(point.merged()) : Double.NaN;
      high = Math.max(high, point.merged() > 0 ? merged[i] : high);
    }
    double roof = Math.ceil(high);
    Drawing.figure(
        page,
        String.format(
            Locale.ROOT,
            "Signal-to-noise over the span, in powers of two: of the best single frame (thin), of"
                + " all merged (thick), and what was asked, %.0f (dashed).",
            setup.goal().snr()),
        220,
        new Drawing.Side("scene brightness, EV at ISO 100", xs[0], xs[points - 1]),
        new Drawing.Side("log2 of signal-to-noise", Math.floor(low), roof),
        drawing -> {
          drawing.level("edge", asked);
          drawing.line("thin", xs, best);
          drawing.line("thick", xs, merged);
        });
    if (!it.holes().isEmpty()) {
      page.in("ul", () -> it.holes().forEach(hole -> page.text("li", hole)));
    }
  }

  private static double log2(double value) {
    return Math.log(value) / Math.log(2);
  }

  @Override
  public List<String> heads() {
    return List.of("Frame", "Exposure", "EV", "Clipped", "Too dark", "Reach", "File");
  }

  @Override
  public List<List<String>> rows() {
    List<List<String>> rows = new ArrayList<>();
    int index = 0;
    for (Event.FrameAccepted frame : state.frames()) {
      index++;
      rows.add(
          List.of(
              String.valueOf(index),
              frame.exposure().toString(),
              String.format(Locale.ROOT, "%.1f", frame.exposure().ev().value()),
              percent(frame.clippedFraction()),
              percent(frame.belowFloorFraction()),
              String.format(
                  Locale.ROOT,
                  "EV %.1f to %.1f",
                  frame.reachLowEv().value(),
                  frame.reachHighEv().value()),
              frame.frame().file()));
    }
    return rows;
  }

  @Override
  public List<SheetFrame> frames() {
    List<SheetFrame> sheet = new ArrayList<>();
    for (Event.FrameAccepted frame : state.frames()) {
      sheet.add(
          SheetFrame.of(
              sheet.size() + 1,
              frame.frame(),
              List.of(frame.exposure().toString(), percent(frame.clippedFraction()) + " clipped"),
              false));
    }
    return sheet;
  }

  static String percent(Share share) {
    double percent = share.value() * 100;
    if (percent == 0) {
      return "0 %";
    }
    return String.format(
        Locale.ROOT, percent >= 10 ? "%.0f %%" : percent >= 0.01 ? "%.2f %%" : "%.4f %%", percent);
  }
}
