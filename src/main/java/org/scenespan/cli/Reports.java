package org.scenespan.cli;

import java.io.PrintWriter;
import java.util.Locale;
import org.scenespan.session.Event;
import org.scenespan.session.Stopped;

/** A session's report in words. */
final class Reports {
  private Reports() {}

  /** The first line; what is more is in {@link Event.Report#why}. */
  static String summary(Event.Report report) {
    if (report instanceof Event.BracketReport bracket) {
      return summary(bracket);
    }
    throw new IllegalArgumentException("no words for a " + report.kind());
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
    int frames = report.frames().size();
    return String.format(
        Locale.ROOT,
        "%s%s, %d frame%s, %.1f s.",
        heading(report.stopped()),
        span,
        frames,
        frames == 1 ? "" : "s",
        report.elapsedSeconds());
  }

  private static String heading(Stopped stopped) {
    return switch (stopped) {
      case COVERED -> "Covered";
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
    }
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
