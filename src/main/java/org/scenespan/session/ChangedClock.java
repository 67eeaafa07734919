package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;

/**
 * What the camera's clock shows since it was changed, or at all: the one offset by which this frame
 * and all that wait before it are frames of different shots that have none yet. Where several
 * offsets do that, three frames in a row that are as prompt as frames have been decide for the one
 * by which they are; else more frames are waited for.
 */
final class ChangedClock {
  /** Frames in a row before promptness counts. */
  private static final int RUN = 3;

  private final LapseSetup setup;
  private final LapseRun run;
  private final FrameMetadata frame;
  private final CaptureTime captured;
  private final Instant now;

  /**
   * An offset that explains everything.
   *
   * @param vague whether a frame before could be of more than one shot by it
   */
  private record Offset(
      LapseShot shot,
      CameraClock clock,
      List<LapseMatching.Resolved> before,
      boolean prompt,
      boolean vague) {}

  ChangedClock(
      LapseSetup setup, LapseRun run, FrameMetadata frame, CaptureTime captured, Instant now) {
    this.setup = setup;
    this.run = run;
    this.frame = frame;
    this.captured = captured;
    this.now = now;
  }

  /**
   * @param fitting the shot without a frame that the frame fits by the clock that was known
   * @return nothing where the known clock is to decide
   */
  Optional<LapseMatching.Verdict> verdict(Optional<LapseShot> fitting) {
    List<LapseShot> possible = LapseMatching.possible(setup, run, frame, now);
    if (possible.isEmpty()) {
      return Optional.empty();
    }
    List<LapseRun.Waiting> waiting = run.doubted();
    List<Offset> offsets = offsets(possible, waiting);
    if (fitting.isPresent()) {
      // A press by hand that waits can look like a frame by a changed clock: where the known one
      // explains this frame, only a run of frames that are as prompt as ever says otherwise.
      offsets = offsets.stream().filter(Offset::prompt).toList();
      int known = fitting.get().number();
      if (offsets.isEmpty() || offsets.size() == 1 && offsets.get(0).shot().number() == known) {
        return Optional.empty();
      }
      if (waiting.size() < RUN) {
        return Optional.of(
            new LapseMatching.Verdict.Doubted(
                known, "the camera's clock may have been changed; the next frames will tell"));
      }
    }
    // Where no offset explains all, the clock was changed twice, or some frame is not of this
    // session: then the latest of them count.
    boolean all = true;
    while (offsets.isEmpty() && !waiting.isEmpty()) {
      all = false;
      waiting = waiting.subList(1, waiting.size());
      offsets = offsets(possible, waiting);
    }
    int least = all ? 1 : RUN;
    Optional<Offset> only =
        waiting.size() >= least ? only(offsets, waiting.size()) : Optional.empty();
    return Optional.of(
        only.<LapseMatching.Verdict>map(
                it ->
                    new LapseMatching.Verdict.Found(
                        it.shot(), Match.Proof.EXPOSURE, Optional.of(it.clock()), it.before()))
            .orElseGet(
                () ->
                    new LapseMatching.Verdict.Doubted(
                        0,
                        "the camera's clock seems to have been changed; the next frames will"
                            + " tell")));
  }

  private List<Offset> offsets(List<LapseShot> possible, List<LapseRun.Waiting> waiting) {
    List<Offset> offsets = new ArrayList<>();
    for (LapseShot shot : possible) {
      CameraClock clock = CameraClock.learned(captured, shot.due(), shot.latestBegin(now));
      explained(shot, clock, waiting).ifPresent(offsets::add);
    }
    return offsets;
  }

  /** The only offset, or of several the only one by which the frames are prompt. */
  private static Optional<Offset> only(List<Offset> offsets, int before) {
    Optional<Offset> only = offsets.size() == 1 ? Optional.of(offsets.get(0)) : Optional.empty();
    if (only.isEmpty() && before + 1 >= RUN) {
      List<Offset> prompt = offsets.stream().filter(Offset::prompt).toList();
      only = prompt.size() == 1 ? Optional.of(prompt.get(0)) : Optional.empty();
    }
    return only.filter(it -> !it.vague() && it.prompt());
  }

  /** Whether the frames that wait are other shots' by this offset, each another's. */
  private Optional<Offset> explained(
      LapseShot shot, CameraClock clock, List<LapseRun.Waiting> before) {
    List<LapseMatching.Resolved> resolved = new ArrayList<>();
    Set<Integer> used = new HashSet<>(Set.of(shot.number()));
    boolean prompt = isPrompt(shot, now);
    boolean vague = false;
    for (LapseRun.Waiting waiting : before) {
      List<LapseShot> its = its(waiting, clock);
      its.removeIf(each -> used.contains(each.number()));
      if (its.isEmpty()) {
        return Optional.empty();
      }
      LapseShot latest = its.get(its.size() - 1);
      vague |= its.size() > 1;
      used.add(latest.number());
      prompt &= isPrompt(latest, waiting.at());
      resolved.add(new LapseMatching.Resolved(waiting.frame(), latest));
    }
    return Optional.of(new Offset(shot, clock, resolved, prompt, vague));
  }

  /** The shots that a frame that waits could be of by an offset. */
  private List<LapseShot> its(LapseRun.Waiting waiting, CameraClock clock) {
    FrameMetadata metadata = waiting.frame().frame().metadata();
    CameraClock wide = clock.widened(LapseMatching.SLACK);
    List<LapseShot> found = new ArrayList<>();
    for (LapseShot shot : LapseMatching.possible(setup, run, metadata, waiting.at())) {
      CameraClock taught =
          CameraClock.learned(
              metadata.capturedAt().orElseThrow(), shot.due(), shot.latestBegin(waiting.at()));
      if (wide.common(taught).isPresent()) {
        found.add(shot);
      }
    }
    return found;
  }

  private boolean isPrompt(LapseShot shot, Instant came) {
    Duration half = setup.cadence().interval().dividedBy(2);
    Instant closed = shot.latestBegin(came).plus(shot.exposing());
    Duration usual = run.usualLag().orElse(Duration.ZERO).plus(half);
    return Duration.between(closed, came).compareTo(usual) <= 0;
  }
}
