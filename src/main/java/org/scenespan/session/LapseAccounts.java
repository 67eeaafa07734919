package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.scenespan.frame.FrameMeasure;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.MidGrey;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Exposure;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.Evening;

/** What is written down of a lapse's frame and of the whole lapse. */
final class LapseAccounts {
  /** Settings that differ by less than this are the same: decimals. */
  private static final double SAME_STOPS = 1e-4;

  private LapseAccounts() {}

  /** Against mid grey, of a level against saturation. */
  static Optional<Stops> brightness(Optional<Stops> level) {
    return level.map(it -> it.plus(MidGrey.BELOW_SATURATION));
  }

  static Event.FrameMatched matched(
      LapseSetup setup,
      LapseShot shot,
      Match.Proof proof,
      Optional<Stops> brightness,
      Optional<CameraClock> clock,
      Steadiness steadiness,
      FrameReading frame) {
    // Metadata shows rounded names; where they agree with the command, the command is exact.
    Exposure exposure =
        frame
            .metadata()
            .exposure()
            .filter(taken -> !taken.isSameSetting(shot.exposure()))
            .orElse(shot.exposure());
    return new Event.FrameMatched(
        shot.number(),
        proof,
        shot.isLost(),
        exposure,
        brightness,
        headroom(frame.measure(), setup.wish().mostClipped()),
        clock,
        steadiness,
        frame);
  }

  /** By how much more light no more would be clipped than may. */
  static Optional<Stops> headroom(FrameMeasure measure, Share most) {
    if (measure.clippedShare().compareTo(most) >= 0) {
      return Optional.empty();
    }
    double level = measure.brightest().percentile(new Share(1 - most.value())).value();
    return Optional.of(new Stops(Math.max(0, -level)));
  }

  static Event.LapseReport report(State state, Stopped stopped, String why, Instant now) {
    LapseSetup setup = (LapseSetup) state.opened();
    LapseRun run = state.lapse();
    List<LapseFrame> lines = lines(run);
    List<Evening.Frame> read = new ArrayList<>();
    int lost = 0;
    int changes = 0;
    Exposure before = null;
    for (LapseFrame line : lines) {
      read.add(new Evening.Frame(line.seconds(), line.brightness(), line.wish()));
      lost += line.file().isEmpty() ? 1 : 0;
      changes += before != null && differ(before, line.exposure()) ? 1 : 0;
      before = line.exposure();
    }
    Evening evening = Evening.of(read);
    List<Optional<Stops>> gains = evening.gains();
    List<Event.LapseLine> frames = new ArrayList<>();
    for (int i = 0; i < lines.size(); i++) {
      LapseFrame line = lines.get(i);
      frames.add(
          new Event.LapseLine(
              line.place(),
              line.seconds(),
              line.file(),
              line.exposure(),
              line.wish(),
              line.brightness().map(it -> it.minus(line.wish())),
              gains.get(i)));
    }
    Evening.Smoothness taken = evening.before();
    Evening.Smoothness evened = evening.evened();
    return new Event.LapseReport(
        "lapse",
        stopped,
        why,
        setup.cadence().intervalSeconds(),
        frames,
        evening.rmsError(),
        evening.largestError(),
        taken.sigma(),
        taken.largest(),
        evened.sigma(),
        evened.largest(),
        changes,
        lost,
        run.skipped(),
        Duration.between(state.openedAt().orElse(now), now).toMillis() / 1000.0);
  }

  /** Each shot that was fired, with its frame where one came; without those that were refused. */
  private static List<LapseFrame> lines(LapseRun run) {
    Map<Integer, LapseFrame> framed = new HashMap<>();
    run.frames().list().forEach(frame -> framed.put(frame.shot(), frame));
    Set<Integer> refused = new HashSet<>(run.refused().list());
    List<LapseFrame> lines = new ArrayList<>();
    for (LapseFrame fired : run.fired().list()) {
      if (!refused.contains(fired.shot())) {
        lines.add(framed.getOrDefault(fired.shot(), fired));
      }
    }
    return lines;
  }

  private static boolean differ(Exposure one, Exposure other) {
    return Math.abs(one.shutter().tv() - other.shutter().tv()) > SAME_STOPS
        || Math.abs(one.iso().sv() - other.iso().sv()) > SAME_STOPS;
  }
}
