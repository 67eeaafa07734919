package org.scenespan.session;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.Detail;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;

/**
 * What two frames before a lapse tell of the rig.
 *
 * @param findings in the order in which they are to be read
 */
record RigVerdict(List<Event.RigFinding> findings) {
  /** Half a step of a dial either way, the light's own change and noise, stops. */
  private static final double LINEAR_ROOM = 0.35;

  /**
   * A camera's JPEG is tone-mapped: a step of a stop looks like 0.4 to 1.4 in it; beyond that it is
   * no step of a stop.
   */
  private static final double LEAST_TONED = 0.25;

  private static final double MOST_TONED = 2.5;

  /** A smaller step than this tells nothing, stops. */
  private static final double LEAST_STEP = 0.5;

  /** With more of the picture clipped than this, its brightness tells nothing. */
  private static final double MOST_CLIPPED = 0.2;

  /** Darker than this against mid grey nothing is seen of the scene, stops. */
  private static final double BLACK = -8;

  /** A photograph that is blurred by a few thousandths of its width is below it. */
  private static final double SOFT = -8;

  static RigVerdict of(LapseSetup setup, List<RigTrial.RigShot> shots) {
    List<Event.RigFinding> findings = new ArrayList<>();
    arrival(setup, shots, findings);
    List<RigTrial.RigShot> framed =
        shots.stream().filter(shot -> shot.frame().isPresent()).toList();
    automatics(framed, findings);
    obeyed(framed, findings);
    picture(framed, findings);
    return new RigVerdict(List.copyOf(findings));
  }

  /** Whether the lapse would be ruined. */
  boolean isFatal() {
    return findings.stream().anyMatch(it -> it.weight().equals(Event.RigFinding.FAULT));
  }

  /** What it would be ruined by. */
  String why() {
    return findings.stream()
        .filter(it -> it.weight().equals(Event.RigFinding.FAULT))
        .map(Event.RigFinding::words)
        .reduce((one, next) -> one + " " + next)
        .orElse("");
  }

  Stopped stopped() {
    boolean missing = findings.stream().anyMatch(it -> it.kind().equals("no-frame"));
    return missing ? Stopped.FRAMES_MISSING : Stopped.TRIGGER_FAILED;
  }

  private static void arrival(
      LapseSetup setup, List<RigTrial.RigShot> shots, List<Event.RigFinding> findings) {
    List<RigTrial.RigShot> failed = shots.stream().filter(shot -> shot.frame().isEmpty()).toList();
    for (RigTrial.RigShot shot : failed) {
      String why = "Frame " + shot.number() + " of the rig check failed: " + shot.failed().get();
      if (failed.size() == shots.size()) {
        findings.add(fault("no-frame", why + "."));
      } else {
        findings.add(warning("frame-missing", why + ". The other one came."));
      }
    }
    double took =
        shots.stream()
            .flatMap(shot -> shot.frame().stream())
            .mapToDouble(Event.RigShotFramed::seconds)
            // The first may have waited for this program, too, which had read none before.
            .min()
            .orElse(0);
    double interval = setup.cadence().intervalSeconds();
    if (took > interval) {
      findings.add(
          warning(
              "cadence",
              words(
                  "A whole file came %.1f s after its release, the interval is %.1f s: the ramp will"
                      + " see its frames late. A longer interval would help.",
                  took, interval)));
    } else if (took > 0) {
      findings.add(
          good(
              "cadence",
              words(
                  "A whole file came %.1f s after its release, within the interval of %.1f s.",
                  took, interval)));
    }
  }

  private static void automatics(List<RigTrial.RigShot> framed, List<Event.RigFinding> findings) {
    boolean exposure = false;
    boolean balance = false;
    for (RigTrial.RigShot shot : framed) {
      FrameMetadata metadata = frame(shot).metadata();
      exposure |= metadata.automatics().exposure().orElse(false);
      balance |= metadata.automatics().whiteBalance().orElse(false);
    }
    if (exposure) {
      findings.add(
          fault(
              "automatic-exposure",
              "The camera chooses its exposure by itself: set it to manual exposure, or to bulb if"
                  + " the trigger times the shutter."));
    }
    if (balance) {
      findings.add(
          warning(
              "automatic-white-balance",
              "The camera's white balance is automatic: the colours will wander. Set it to a fixed"
                  + " one."));
    }
  }

  private static void obeyed(List<RigTrial.RigShot> framed, List<Event.RigFinding> findings) {
    boolean said = true;
    for (RigTrial.RigShot shot : framed) {
      Optional<String> other = Obedience.other(shot.exposure(), frame(shot).metadata());
      if (other.isPresent()) {
        said = false;
        findings.add(
            fault(
                "disobeyed",
                words(
                    "Frame %d was to be taken with %s, and was taken with %s%s.",
                    shot.number(),
                    shot.exposure(),
                    other.get(),
                    other.get().startsWith("ISO") ? ": is ISO automatic?" : "")));
      }
    }
    if (framed.size() < 2) {
      return;
    }
    double asked = framed.get(0).exposure().ev().minus(framed.get(1).exposure().ev()).value();
    Optional<Double> seen = seen(framed);
    if (asked < LEAST_STEP) {
      findings.add(
          warning(
              "obeyed",
              "Whether the exposure is obeyed cannot be tried: the limits leave no two exposures"
                  + " that differ enough."));
    } else if (seen.isEmpty()) {
      findings.add(
          warning(
              "obeyed",
              "The pictures do not tell whether the exposure is obeyed: they are black or"
                  + " clipped."));
    } else if (fits(asked, seen.get(), isLinear(framed))) {
      if (said) {
        findings.add(
            good(
                "obeyed",
                words(
                    "The exposure is obeyed: %.1f stops more made the picture %.1f stops brighter.",
                    asked, seen.get())));
      }
    } else {
      findings.add(
          fault(
              "disobeyed",
              words(
                  "The exposure is not obeyed: %.1f stops more changed the picture by %+.1f stops.",
                  asked, seen.get())));
    }
  }

  private static boolean fits(double asked, double seen, boolean linear) {
    return linear
        ? Math.abs(seen - asked) <= LINEAR_ROOM
        : seen >= LEAST_TONED * asked && seen <= MOST_TONED * asked;
  }

  private static Optional<Double> seen(List<RigTrial.RigShot> framed) {
    for (RigTrial.RigShot shot : framed) {
      if (brightness(shot) <= BLACK
          || frame(shot).measure().clippedShare().value() > MOST_CLIPPED) {
        return Optional.empty();
      }
    }
    return Optional.of(brightness(framed.get(1)) - brightness(framed.get(0)));
  }

  /** Whether its numbers are light, and not what a camera's picture style makes of it. */
  private static boolean isLinear(List<RigTrial.RigShot> framed) {
    return framed.stream()
        .map(RigVerdict::frame)
        .allMatch(it -> it.measure().source() == FrameSource.RAW || it.isByMeasuredResponse());
  }

  private static void picture(List<RigTrial.RigShot> framed, List<Event.RigFinding> findings) {
    if (framed.isEmpty()) {
      return;
    }
    RigTrial.RigShot last = framed.get(framed.size() - 1);
    if (brightness(last) <= BLACK) {
      findings.add(
          warning(
              "black",
              "The picture is black: is the lens cap on? If the night is that dark, a longer"
                  + " shutter or a higher ISO would help."));
      return;
    }
    Optional<Detail> detail = last.frame().get().steadiness().detail();
    if (detail.isEmpty()) {
      findings.add(
          warning(
              "sharpness",
              "There is too little detail in the picture to tell whether it is sharp: look"
                  + " yourself."));
    } else if (detail.get().sharpness() < SOFT) {
      findings.add(
          warning(
              "sharpness",
              "Hardly anything in the picture is sharp: look at the focus, and at the front lens for"
                  + " dew."));
    } else {
      findings.add(good("sharpness", "There is sharp detail in the picture."));
    }
  }

  /** Against mid grey; black where there is none. */
  private static double brightness(RigTrial.RigShot shot) {
    return shot.frame().get().brightness().map(it -> it.value()).orElse(BLACK);
  }

  private static FrameReading frame(RigTrial.RigShot shot) {
    return shot.frame().get().frame();
  }

  private static Event.RigFinding good(String kind, String words) {
    return new Event.RigFinding(kind, Event.RigFinding.GOOD, words);
  }

  private static Event.RigFinding warning(String kind, String words) {
    return new Event.RigFinding(kind, Event.RigFinding.WARNING, words);
  }

  private static Event.RigFinding fault(String kind, String words) {
    return new Event.RigFinding(kind, Event.RigFinding.FAULT, words);
  }

  private static String words(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
