package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.CaptureTime;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.light.Exposure;

/**
 * Which shot of a lapse a frame belongs to. Neighbouring shots often have the same exposure, so it
 * is the capture time that tells, by the camera clock's offset as the frames before taught it.
 *
 * <p>Where two shots are possible, none is guessed: the frame is left alone. What fits a shot that
 * was given up may as well be a new frame after the camera's clock was put back; what fits no shot,
 * or one that has its frame, shows that the clock was changed or that the frame is not of this
 * session. Such frames wait: the next one proves the old clock, or {@link ChangedClock} finds a new
 * one.
 */
final class LapseMatching {
  /** Lag that differs from shot to shot, and time that is written in cut-off hundredths. */
  static final Duration SLACK = Duration.ofMillis(120);

  /** A watch in the cold is off by 20 parts in a million; fifteen times that. */
  private static final double DRIFT = 3e-4;

  /** A first lesson of the clock is taken only from a shot whose beginning is known this well. */
  private static final Duration CERTAIN = Duration.ofMillis(1500);

  /** Parts of an interval: this near to one shot, and at least that far from any other. */
  private static final double NEAR = 0.3;

  private static final double FAR = 0.6;

  /** What came of it. */
  sealed interface Verdict {
    /**
     * The frame is this shot's.
     *
     * @param clock what was learned of the camera's clock
     * @param resolved frames that waited, and are now known to be a shot's too
     */
    record Found(
        LapseShot shot, Match.Proof proof, Optional<CameraClock> clock, List<Resolved> resolved)
        implements Verdict {}

    /**
     * The frame has to wait for the next one.
     *
     * @param shot that it would be by the known clock; 0 if none
     */
    record Doubted(int shot, String reason) implements Verdict {}

    /** The frame is nobody's, or nobody can tell whose. */
    record Stray(String reason) implements Verdict {}
  }

  /** A frame that waited, and whose it is. */
  record Resolved(Event.FrameDoubted frame, LapseShot shot) {}

  private final LapseSetup setup;
  private final LapseRun run;
  private final FrameReading reading;
  private final FrameMetadata frame;
  private final Instant now;

  private LapseMatching(LapseSetup setup, LapseRun run, FrameReading reading, Instant now) {
    this.setup = setup;
    this.run = run;
    this.reading = reading;
    this.frame = reading.metadata();
    this.now = now;
  }

  /**
   * @param now when the frame was read
   */
  static Verdict match(LapseSetup setup, LapseRun run, FrameReading reading, Instant now) {
    return new LapseMatching(setup, run, reading, now).verdict();
  }

  private Verdict verdict() {
    Optional<CaptureTime> captured = frame.capturedAt();
    if (captured.isEmpty()) {
      return byArrival();
    }
    LapseShot.Press press = LapseShot.Press.of(reading).orElseThrow();
    boolean copied =
        run.shots().stream().flatMap(shot -> shot.press().stream()).anyMatch(press::isSame)
            || run.doubted().stream()
                .flatMap(it -> LapseShot.Press.of(it.frame().frame()).stream())
                .anyMatch(press::isSame);
    if (copied) {
      return new Verdict.Stray("it is of a shutter press of which there is a frame already");
    }
    return run.clock().isPresent()
        ? byClock(captured.get(), run.clock().get())
        : withoutClock(captured.get());
  }

  /** It says nothing of when it was taken. */
  private Verdict byArrival() {
    List<LapseShot> possible = possible();
    if (possible.size() == 1 && possible.get(0).isAwaitingFrame()) {
      return found(possible.get(0), Match.Proof.ARRIVAL, Optional.empty());
    }
    return new Verdict.Stray(
        possible.isEmpty()
            ? "no shot is waiting for a frame like it"
            : "it does not say when it was taken, and more than one shot could be its own");
  }

  private static Verdict.Found found(
      LapseShot shot, Match.Proof proof, Optional<CameraClock> clock) {
    return new Verdict.Found(shot, proof, clock, List.of());
  }

  private List<LapseShot> possible() {
    return possible(setup, run, frame, now);
  }

  /** Shots whose frame it could be if nothing were known of the camera's clock. */
  static List<LapseShot> possible(
      LapseSetup setup, LapseRun run, FrameMetadata frame, Instant now) {
    List<LapseShot> possible = new ArrayList<>();
    Optional<Exposure> taken = frame.exposure();
    for (LapseShot shot : run.shots()) {
      // From when it was given up, or the folder came back: before that its frame may have lain
      // there unseen.
      Instant unseen = shot.shot().settledAt().orElse(shot.due());
      Instant back = run.folderBack().orElse(unseen);
      Instant late = (back.isAfter(unseen) ? back : unseen).plus(LapseTimes.lateFor(setup));
      boolean mayCome = shot.isAwaitingFrame() || shot.isLost() && !late.isBefore(now);
      boolean alike = taken.isEmpty() || taken.get().isSameSetting(shot.exposure());
      if (mayCome && alike && shot.canBeOver(now)) {
        possible.add(shot);
      }
    }
    return possible;
  }

  private Verdict byClock(CaptureTime captured, CameraClock clock) {
    List<LapseShot> fitting = new ArrayList<>();
    for (LapseShot shot : run.shots()) {
      boolean fired = shot.shot().standing() != Shot.Standing.REFUSED;
      if (fired && clock.allows(captured, shot.due(), shot.latestBegin(now), slack(shot))) {
        fitting.add(shot);
      }
    }
    Optional<LapseShot> only =
        fitting.size() == 1 ? Optional.of(fitting.get(0)) : nearest(captured, clock, fitting);
    if (only.isEmpty() && fitting.size() > 1) {
      return new Verdict.Stray(
          "it was captured at " + captured.local() + ", and more than one shot could be its own");
    }
    Optional<LapseShot> fits = only.filter(it -> it.isAwaitingFrame() || it.isLost());
    if (!run.doubted().isEmpty() || fits.isEmpty()) {
      Optional<Verdict> changed = new ChangedClock(setup, run, frame, captured, now).verdict(fits);
      if (changed.isPresent()) {
        return changed.get();
      }
    }
    if (only.isPresent() && only.get().isAwaitingFrame()) {
      return byKnownClock(captured, clock, only.get());
    }
    return only.isPresent() && only.get().isLost()
        ? new Verdict.Doubted(
            only.get().number(),
            "it comes late, or the camera's clock was put back; the next frame will tell")
        : new Verdict.Doubted(
            0, "no shot was being taken when it was captured; the next frame will tell");
  }

  private Verdict byKnownClock(CaptureTime captured, CameraClock clock, LapseShot shot) {
    CameraClock taught = CameraClock.learned(captured, shot.due(), shot.latestBegin(now));
    CameraClock narrowed = clock.widened(slack(shot)).common(taught).orElse(taught);
    List<Resolved> resolved = new ArrayList<>();
    for (LapseRun.Waiting waiting : run.doubted()) {
      run.shot(waiting.frame().shot())
          .filter(it -> it.isLost() || it.isAwaitingFrame())
          .filter(it -> it.number() != shot.number())
          .ifPresent(it -> resolved.add(new Resolved(waiting.frame(), it)));
    }
    return new Verdict.Found(shot, Match.Proof.CAPTURE_TIME, Optional.of(narrowed), resolved);
  }

  private Duration slack(LapseShot shot) {
    long away = Math.abs(Duration.between(run.clockAt(), shot.due()).toMillis());
    return SLACK.plusMillis(Math.round(DRIFT * away));
  }

  /**
   * Of several that are possible, the one that is by far the nearest, if all others have their
   * frames: a trigger that is slow to answer leaves it open for long when a shot was taken, and of
   * two that lack a frame the farther one may be it.
   */
  private Optional<LapseShot> nearest(
      CaptureTime captured, CameraClock clock, List<LapseShot> fitting) {
    if (fitting.stream().filter(it -> it.isAwaitingFrame() || it.isLost()).count() > 1) {
      return Optional.empty();
    }
    Optional<LapseShot> near = Optional.empty();
    for (LapseShot shot : fitting) {
      double off = off(captured, clock, shot);
      if (off < NEAR && near.isEmpty()) {
        near = Optional.of(shot);
      } else if (off < FAR) {
        return Optional.empty();
      }
    }
    return near;
  }

  /** How far a frame's time is off a shot's, in intervals, from middle to middle. */
  private double off(CaptureTime captured, CameraClock clock, LapseShot shot) {
    CameraClock would = CameraClock.learned(captured, shot.due(), shot.latestBegin(now));
    Duration middle = would.least().plus(would.most()).dividedBy(2);
    Duration known = clock.least().plus(clock.most()).dividedBy(2);
    return Math.abs((double) middle.minus(known).toMillis())
        / setup.cadence().interval().toMillis();
  }

  /** Nothing is known of the clock: only a shot that is the only one counts. */
  private Verdict withoutClock(CaptureTime captured) {
    List<LapseShot> possible = possible();
    if (possible.size() == 1 && possible.get(0).isAwaitingFrame() && run.doubted().isEmpty()) {
      LapseShot shot = possible.get(0);
      CameraClock taught = CameraClock.learned(captured, shot.due(), shot.latestBegin(now));
      boolean certain = taught.uncertainty().minus(captured.granularity()).compareTo(CERTAIN) < 0;
      return found(shot, Match.Proof.EXPOSURE, certain ? Optional.of(taught) : Optional.empty());
    }
    return new ChangedClock(setup, run, frame, captured, now)
        .verdict(Optional.empty())
        .orElseGet(() -> new Verdict.Stray("no shot of its settings is waiting for a frame"));
  }
}
