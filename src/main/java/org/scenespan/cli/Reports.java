package org.scenespan.cli;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.light.Stops;
import org.scenespan.session.Event;
import org.scenespan.session.Mark;
import org.scenespan.session.Stopped;

/** A session's report in words. */
final class Reports {
  private Reports() {}

  /** The first line; what is more is in {@link Event.Report#why}. */
  static String summary(Event.Report report) {
    if (report instanceof Event.BracketReport bracket) {
      return summary(bracket);
    }
    if (report instanceof Event.LapseReport lapse) {
      return LapseTold.summary(lapse);
    }
    Event.TetherReport tether = (Event.TetherReport) report;
    long told = tether.frames().stream().filter(frame -> !frame.findings().isEmpty()).count();
    return String.format(
        Locale.ROOT,
        "%s, %s, %d with something to look at.",
        heading(tether.stopped()),
        counted(tether.frames().size()),
        told);
  }

  private static String summary(Event.BracketReport report) {
    String span =
        report.spanLowEv().isPresent() && report.spanHighEv().isPresent()
            ? String.format(
                Locale.ROOT,
                ", span %s to %s (%.1f stops)",
                report.spanLowEv().get(),
                report.spanHighEv().get(),
                report.spanHighEv().get().minus(report.spanLowEv().get()).value())
            : "";
    return String.format(
        Locale.ROOT,
        "%s%s, %s, %.1f s.",
        heading(report.stopped()),
        span,
        counted(report.frames().size()),
        report.elapsedSeconds());
  }

  static String counted(int frames) {
    return frames + (frames == 1 ? " frame" : " frames");
  }

  static String heading(Stopped stopped) {
    return switch (stopped) {
      case COVERED -> "Covered";
      case DONE -> "Done";
      case LIMIT -> "Open at a limit";
      case MOST_FRAMES -> "Open after the most frames";
      case ASKED -> "Stopped";
      case TRIGGER_FAILED -> "The trigger failed";
      case FRAMES_MISSING -> "Frames did not arrive";
    };
  }

  static void table(PrintWriter out, Event.Report report) {
    if (report instanceof Event.BracketReport bracket) {
      table(out, bracket);
    } else if (report instanceof Event.TetherReport tether) {
      table(out, tether);
    } else if (report instanceof Event.LapseReport lapse) {
      LapseTold.table(out, lapse);
    }
  }

  private static void table(PrintWriter out, Event.TetherReport report) {
    out.println(" frame  exposure    red   blue  mark    file");
    for (Event.TetherFrame frame : report.frames()) {
      out.println(
          String.format(
              Locale.ROOT,
              "%6d  %8s %6s %6s  %-6s  %s%s",
              frame.index(),
              stops(frame.exposureStops()),
              stops(frame.redStops()),
              stops(frame.blueStops()),
              frame.mark() == Mark.NONE ? "" : frame.mark().label(),
              frame.file(),
              frame.findings().isEmpty() ? "" : "  (" + String.join(", ", frame.findings()) + ")"));
    }
  }

  static String stops(Optional<Stops> stops) {
    return stops.map(it -> String.format(Locale.ROOT, "%+.2f", it.value())).orElse("-");
  }

  private static void table(PrintWriter out, Event.BracketReport report) {
    out.println(
        " frame  exposure                        EV    clipped      below   reach          file");
    for (Event.ReportFrame frame : report.frames()) {
      String exposure = frame.shutterSeconds() + ", " + frame.aperture() + ", " + frame.iso();
      out.println(
          String.format(
              Locale.ROOT,
              "%6d  %-28s  %5.1f  %9s  %9s  %5.1f to %4.1f  %s",
              frame.index(),
              exposure,
              frame.ev().value(),
              Telling.percent(frame.clippedFraction()),
              Telling.percent(frame.belowFloorFraction()),
              frame.reachLowEv().value(),
              frame.reachHighEv().value(),
              frame.file()));
    }
  }
}
