package org.scenespan.cli;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.session.Event;
import org.scenespan.session.LapseSetup;

/** A lapse in words: its progress on one line, and its report. */
final class LapseTold {
  private int frames;
  private Optional<Event.ShotRamped> last = Optional.empty();

  /** From now on it is told of this lapse. */
  void opened(LapseSetup setup) {
    frames = setup.cadence().frames();
  }

  void ramped(Event.ShotRamped shot) {
    last = Optional.of(shot);
  }

  /** How far it is: rewritten in place, since a line a frame would be too many. */
  String progress(Event.FrameMatched frame) {
    Event.ShotRamped shot = last.orElseThrow();
    return String.format(
        Locale.ROOT,
        "Frame %d of %d, %s: %s (%s), scene %s%s",
        shot.place(),
        frames,
        clock(shot.seconds()),
        shot.exposure(),
        shot.exposure().ev(),
        shot.forecast(),
        frame
            .brightness()
            .map(it -> String.format(Locale.ROOT, ", %+.2f stops against mid grey", it.value()))
            .orElse(""));
  }

  static String clock(double seconds) {
    long whole = Math.round(seconds);
    return String.format(Locale.ROOT, "%d:%02d:%02d", whole / 3600, whole / 60 % 60, whole % 60);
  }

  static String summary(Event.LapseReport report) {
    long read = report.frames().stream().filter(it -> it.file().isPresent()).count();
    return String.format(
        Locale.ROOT,
        "%s, %s, %d lost, %d not taken; off by %s stops RMS, %s at most; evened to %.4f (largest"
            + " %.4f); %d changes of setting.",
        Reports.heading(report.stopped()),
        Reports.counted((int) read),
        report.framesLost(),
        report.placesSkipped(),
        report
            .rmsErrorStops()
            .map(it -> String.format(Locale.ROOT, "%.3f", it.value()))
            .orElse("-"),
        report
            .largestErrorStops()
            .map(it -> String.format(Locale.ROOT, "%.3f", it.value()))
            .orElse("-"),
        report.evenedSigmaStops().value(),
        report.evenedLargestStops().value(),
        report.settingChanges());
  }

  static void table(PrintWriter out, Event.LapseReport report) {
    out.println(
        " frame      time  exposure                        EV   wish   error    gain  file");
    for (Event.LapseLine frame : report.frames()) {
      out.println(
          String.format(
              Locale.ROOT,
              "%6d  %8s  %-28s  %5.1f  %+5.2f  %6s  %6s  %s",
              frame.index(),
              clock(frame.seconds()),
              frame.exposure(),
              frame.exposure().ev().value(),
              frame.wishStops().value(),
              Reports.stops(frame.errorStops()),
              Reports.stops(frame.gainStops()),
              frame.file().orElse("(lost)")));
    }
  }
}
