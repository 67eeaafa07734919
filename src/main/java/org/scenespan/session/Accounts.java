package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Reach;
import org.scenespan.light.Exposure;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.plan.CoverSet;
import org.scenespan.plan.Coverage;
import org.scenespan.plan.Decision;
import org.scenespan.plan.Evidence;
import org.scenespan.plan.SpanEstimate;

/** What is written down of an accepted frame and of a whole session. */
final class Accounts {
  private Accounts() {}

  static Event.FrameAccepted accepted(BracketSetup setup, Match.Found found, FrameReading frame) {
    Shot shot = found.shot();
    Exposure exposure = exposure(setup, shot, frame);
    Evidence evidence = Evidence.of(exposure, frame.measure());
    Reach reach = evidence.reach(setup.noise(), setup.goal().snr());
    return new Event.FrameAccepted(
        shot.number(),
        found.proof(),
        shot.standing() == Shot.Standing.LOST,
        exposure,
        frame,
        reach.low(),
        reach.high(),
        frame.measure().clippedShare(),
        evidence.belowReach(setup.noise(), setup.goal().snr()),
        found.clock());
  }

  private static Exposure exposure(BracketSetup setup, Shot shot, FrameReading frame) {
    if (shot.wanted().isEmpty()) {
      return OwnMatching.exposure(frame.metadata(), setup.picture().aperture()).orElseThrow();
    }
    // Metadata shows rounded names; where they agree with the command, the command is exact.
    return frame
        .metadata()
        .exposure()
        .filter(taken -> !taken.isSameSetting(shot.exposure()))
        .orElse(shot.exposure());
  }

  /** The raw file's numbers in the place of the JPEG's; both were taken with the same exposure. */
  static Event.FrameRefined refined(
      BracketSetup setup, Event.FrameAccepted accepted, FrameReading frame) {
    Evidence evidence = Evidence.of(accepted.exposure(), frame.measure());
    Reach reach = evidence.reach(setup.noise(), setup.goal().snr());
    return new Event.FrameRefined(
        accepted.shot(),
        accepted.frame().file(),
        frame.withCompanion(Optional.of(accepted.frame().file())),
        reach.low(),
        reach.high(),
        frame.measure().clippedShare(),
        evidence.belowReach(setup.noise(), setup.goal().snr()));
  }

  /** The number of the next try at a picture: 1 unless the last shot brought nothing. */
  static int nextAttempt(State state) {
    if (state.shots().isEmpty()) {
      return 1;
    }
    Shot last = state.shots().get(state.shots().size() - 1);
    boolean failed = last.standing() != Shot.Standing.TAKEN && !cameForward(state, last);
    return failed ? last.attempt() + 1 : 1;
  }

  /** Whether a frame came in since a shot was decided on, be it a late one of an earlier shot. */
  private static boolean cameForward(State state, Shot since) {
    return state.shots().stream()
        .flatMap(shot -> shot.framedAt().stream())
        .anyMatch(at -> at.isAfter(since.plannedAt()));
  }

  static String driftWords(Stops drift) {
    return String.format(
        Locale.ROOT,
        "The scene is %.1f stops %s than at the first frame, more than shutters are off by; the"
            + " frames count by where they hold the scene as it is now.",
        Math.abs(drift.value()),
        drift.value() > 0 ? "brighter" : "darker");
  }

  /** Exposures and overheads to come, to a tenth of a second. */
  static Optional<Double> secondsLeft(Decision.Expose next, Optional<Duration> overhead) {
    return overhead.map(
        each ->
            Math.rint(10 * (next.exposureLeft() + next.framesLeft() * each.toMillis() / 1000.0))
                / 10);
  }

  static Event.BracketReport report(State state, Stopped stopped, String why, Instant now) {
    List<Event.ReportFrame> frames = new ArrayList<>();
    List<Exposure> set = set(state);
    Coverage coverage = coverage(state);
    for (Event.FrameAccepted frame : state.frames()) {
      boolean inSet = set.stream().anyMatch(it -> it.isSameSetting(frame.exposure()));
      frames.add(line(frames.size() + 1, frame, inSet));
    }
    Instant start = state.openedAt().orElse(now);
    return new Event.BracketReport(
        "bracket",
        state.span().map(SpanEstimate::covered).orElse(false),
        stopped,
        why,
        state.span().map(SpanEstimate::low),
        state.span().map(SpanEstimate::high),
        frames,
        state.span().map(SpanEstimate::openAbove).orElse(Stops.ZERO),
        state.span().map(SpanEstimate::openBelow).orElse(Stops.ZERO),
        state.span().map(SpanEstimate::gap).orElse(Stops.ZERO),
        Duration.between(start, now).toMillis() / 1000.0,
        coverage.points().stream()
            .map(point -> new Event.CoveragePoint(point.ev(), point.best(), point.merged()))
            .toList(),
        coverage.holes());
  }

  private static List<Exposure> set(State state) {
    return state.frames().isEmpty()
        ? List.of()
        : CoverSet.of(state.bracket().goal(), state.bracket().noise(), state.evidence()).stream()
            .map(Evidence::exposure)
            .toList();
  }

  private static Coverage coverage(State state) {
    return state
        .span()
        .map(
            span ->
                Coverage.of(
                    span, state.bracket().goal(), state.bracket().noise(), state.evidence()))
        .orElse(Coverage.NONE);
  }

  private static Event.ReportFrame line(int index, Event.FrameAccepted frame, boolean inSet) {
    Exposure exposure = frame.exposure();
    Share below = frame.belowFloorFraction();
    return new Event.ReportFrame(
        index,
        frame.frame().file(),
        exposure.shutter(),
        exposure.aperture(),
        exposure.iso(),
        exposure.ev(),
        frame.clippedFraction(),
        below,
        frame.reachLowEv(),
        frame.reachHighEv(),
        inSet);
  }
}
