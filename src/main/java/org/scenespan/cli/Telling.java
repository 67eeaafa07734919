package org.scenespan.cli;

import java.io.PrintWriter;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.scenespan.control.Feed;
import org.scenespan.light.Share;
import org.scenespan.plan.guard.Finding;
import org.scenespan.session.BracketSetup;
import org.scenespan.session.Event;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.Setup;
import org.scenespan.wire.EventJson;
import org.scenespan.wire.JournalRecord;

/** Tells a running session on a terminal: records as JSON, or a line a happening. */
final class Telling implements Feed {
  /** Less movement than this share of the picture is not told. */
  private static final double WORTH_TELLING = 0.0005;

  private final PrintWriter out;
  private final boolean json;
  private final boolean terminal;
  private double snr = 10;
  private boolean own;
  private final Map<String, Share> accepted = new HashMap<>();
  private boolean statusShown;
  private boolean isLapse;
  private final LapseTold lapse = new LapseTold();

  /**
   * @param terminal whether a status line may be rewritten in place
   */
  Telling(PrintWriter out, boolean json, boolean terminal) {
    this.out = out;
    this.json = json;
    this.terminal = terminal;
  }

  @Override
  public void publish(List<JournalRecord> records) {
    for (JournalRecord record : records) {
      if (json) {
        out.println(EventJson.write(record));
      } else {
        tell(record.event());
      }
    }
    out.flush();
  }

  private void tell(Event event) {
    if (event instanceof Event.SessionOpened opened) {
      opened(opened.setup());
    } else if (event instanceof Event.SessionResumed) {
      line("The session goes on.");
    } else if (event instanceof Event.TriggerGreeted greeted) {
      line("Trigger: %s.", greeted.identity());
    } else if (event instanceof Event.TriggerLost lost) {
      line("ALARM: the trigger is gone: %s.", trimmed(lost.reason()));
    } else if (event instanceof Event.SceneMetered metered) {
      line("The meter says %s.", metered.ev());
    } else if (event instanceof Event.MeterUnread unread) {
      line("ALARM: the meter could not be read: %s.", trimmed(unread.reason()));
    } else if (event instanceof Event.ShotPlanned planned) {
      line(
          "Shot %d: %s.",
          planned.shot(),
          planned.exposure().map(it -> it + " (" + it.ev() + ")").orElse("as the camera exposes"));
      line("   %s", planned.reason());
    } else if (event instanceof Event.DialAsked asked) {
      line("-> %s", asked.words());
    } else if (event instanceof Event.ShotCommanded commanded && !isLapse) {
      status("Shot %d: exposing and waiting for its frame ...", commanded.shot());
    } else if (event instanceof Event.ShotUnconfirmed unconfirmed) {
      line(
          "ALARM: shot %d is not confirmed: %s.",
          unconfirmed.shot(), trimmed(unconfirmed.reason()));
    } else if (event instanceof Event.ShotRefused refused) {
      line("ALARM: shot %d was refused: %s.", refused.shot(), trimmed(refused.reason()));
    } else if (event instanceof Event.ShotLost lost) {
      line("ALARM: shot %d is lost: %s.", lost.shot(), trimmed(lost.reason()));
    } else if (event instanceof Event.FrameAccepted frame) {
      accepted.put(frame.frame().file(), frame.clippedFraction());
      line(
          "   %s: %s%s clipped, %s below signal-to-noise %.0f; reach %s to %s.",
          frame.frame().file(),
          own ? frame.exposure() + " (" + frame.exposure().ev() + "), " : "",
          percent(frame.clippedFraction()),
          percent(frame.belowFloorFraction()),
          snr,
          frame.reachLowEv(),
          frame.reachHighEv());
      frame.frame().changes().stream()
          .findFirst()
          .filter(change -> change.moved().value() > WORTH_TELLING)
          .ifPresent(
              change ->
                  line(
                      "   %s of the picture has moved since %s, of %s that both hold.",
                      percent(change.moved()), change.against(), percent(change.compared())));
    } else if (event instanceof Event.FrameRefined refined) {
      line(
          "   %s replaces the numbers of its JPEG: %s clipped%s, %s below; reach %s to %s.",
          refined.frame().file(),
          percent(refined.clippedFraction()),
          // Of a session that was taken up again the JPEG may have been told by an earlier run.
          accepted.containsKey(refined.replaces())
              ? " (JPEG " + percent(accepted.get(refined.replaces())) + ")"
              : "",
          percent(refined.belowFloorFraction()),
          refined.reachLowEv(),
          refined.reachHighEv());
    } else if (event instanceof Event.LightDrifted drifted) {
      line("   %s", drifted.why());
    } else if (event instanceof Event.FrameStray stray) {
      line("   %s is left alone: %s.", stray.file(), trimmed(stray.reason()));
    } else if (event instanceof Event.FrameSkipped skipped) {
      line("ALARM: %s cannot be read: %s.", skipped.file(), trimmed(skipped.reason()));
    } else if (event instanceof Event.FolderLost lost) {
      line("ALARM: the hot folder is gone: %s.", trimmed(lost.reason()));
    } else if (event instanceof Event.FolderReturned) {
      line("The hot folder is back.");
    } else if (event instanceof Event.SessionHeld) {
      line("Held: no further shot until you continue.");
    } else if (event instanceof Event.SessionContinued) {
      line("Continued.");
    } else if (event instanceof Event.FrameWatched watched) {
      watched(watched);
    } else if (event instanceof Event.ReferenceMarked marked) {
      line(
          "%s is the reference frame%s.",
          marked.file(), marked.patch().isPresent() ? ", with a patch in it" : "");
    } else if (event instanceof Event.ReleaseAsked asked) {
      line(
          "Release %d is asked for%s.",
          asked.shot(), asked.countSeconds() == 0 ? "" : ", in " + asked.countSeconds() + " s");
    } else if (event instanceof Event.ReleaseWithdrawn withdrawn) {
      line("Release %d was taken back: %s.", withdrawn.shot(), withdrawn.reason());
    } else if (event instanceof Event.ReleaseAnswered answered) {
      line("   %s is what release %d brought.", answered.file(), answered.shot());
    } else if (event instanceof Event.FrameMarked marked) {
      line(
          "%s: %s%s",
          marked.file(),
          marked.mark().label(),
          marked.note().isEmpty() ? "" : ", " + marked.note());
    } else if (event instanceof Event.ShotRamped ramped) {
      lapse.ramped(ramped);
    } else if (event instanceof Event.FrameMatched matched) {
      status("%s", lapse.progress(matched));
    } else if (event instanceof Event.FrameDoubted doubted) {
      line("   %s waits: %s.", doubted.frame().file(), trimmed(doubted.reason()));
    } else if (event instanceof Event.PlacesSkipped passed) {
      line(
          "ALARM: no frame was taken at %s of the grid: %s.",
          passed.from() == passed.to()
              ? "place " + passed.from()
              : "places " + passed.from() + " to " + passed.to(),
          trimmed(passed.reason()));
    } else if (event instanceof Event.RigShotCommanded shot) {
      status("Rig check, frame %d of 2: %s ...", shot.shot(), shot.exposure());
    } else if (event instanceof Event.RigChecked checked) {
      RigTold.lines(checked).forEach(told -> line("%s", told));
    } else if (event instanceof Event.AlarmRaised alarm) {
      line("ALARM: %s", alarm.words());
    } else if (event instanceof Event.AlarmEnded alarm) {
      line("%s", alarm.words());
    } else if (event instanceof Event.Report report) {
      line("%s", Reports.summary(report));
      line("%s", report.why());
    }
  }

  private void watched(Event.FrameWatched watched) {
    String deviation =
        watched
            .deviation()
            .map(it -> String.format(Locale.ROOT, ": %+.2f stops", it.exposure().value()))
            .orElse("");
    line("Frame %d, %s%s.", watched.index(), watched.frame().file(), deviation);
    for (Finding finding : watched.findings()) {
      line(
          "%s%s",
          finding.weight() == Finding.Weight.ALARM ? "ALARM: " : "   Look: ", finding.words());
    }
  }

  private void opened(Setup setup) {
    String within = "";
    if (setup instanceof BracketSetup bracket) {
      snr = bracket.goal().snr();
      own = bracket.gear().own().isPresent();
      within = ", within " + bracket.latitude();
    }
    if (setup instanceof LapseSetup opened) {
      within = ", within " + opened.latitude();
    }
    line("Session %s, %s%s.", setup.session(), setup.gear().source(), within);
    if (setup instanceof BracketSetup bracket) {
      bracket.margin().ifPresent(margin -> line("%s", margin.why()));
    } else if (setup instanceof LapseSetup opened) {
      isLapse = true;
      lapse.opened(opened);
      line(
          "%d frames, one each %.1f s, by %s of the picture.",
          opened.cadence().frames(),
          opened.cadence().interval().toMillis() / 1000.0,
          opened.region().label().equals("whole")
              ? "the whole"
              : "the part " + opened.region().label());
    }
  }

  private void line(String format, Object... values) {
    if (statusShown) {
      // Back to the line's start and clear to its end (ECMA-48, CSI K).
      out.print("\r\u001b[K");
      statusShown = false;
    }
    out.println(printable(String.format(Locale.ROOT, format, values)));
  }

  /** A file's name or a trigger's words must not steer the terminal. */
  static String printable(String text) {
    return text.replaceAll("\\p{Cntrl}|[\\x80-\\x9f]", "?");
  }

  private void status(String format, Object... values) {
    if (terminal) {
      if (statusShown) {
        out.print("\r\u001b[K");
      }
      out.print(String.format(Locale.ROOT, format, values));
      statusShown = true;
    }
  }

  private static String trimmed(String reason) {
    return reason.endsWith(".") ? reason.substring(0, reason.length() - 1) : reason;
  }

  static String percent(Share share) {
    double percent = share.value() * 100;
    if (percent == 0) {
      return "0 %";
    }
    return percent >= 10
        ? String.format(Locale.ROOT, "%.0f %%", percent)
        : percent >= 0.01
            ? String.format(Locale.ROOT, "%.2f %%", percent)
            : String.format(Locale.ROOT, "%.4f %%", percent);
  }
}
