package org.scenespan.session;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.Deviation;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.Patch;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Aperture;
import org.scenespan.light.Ev;
import org.scenespan.light.Exposure;
import org.scenespan.light.Iso;
import org.scenespan.light.Share;
import org.scenespan.light.Shutter;
import org.scenespan.light.Stops;
import org.scenespan.plan.SpanEstimate;
import org.scenespan.plan.guard.Finding;
import org.scenespan.plan.hand.DialTurn;

/**
 * Something that the session has decided or learned: a record of the journal. State is a fold over
 * events, so each one knows how it changes state.
 */
public sealed interface Event {
  /** The state after this event, which happened at {@code at}. */
  State applyTo(State state, Instant at);

  /** The session begins; all that it was started with. */
  record SessionOpened(int version, Setup setup) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return State.opened(setup, at);
    }
  }

  /** The program was started again in the middle of the session. */
  record SessionResumed() implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.resumed(at);
    }
  }

  record TriggerGreeted(String identity) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.triggerGreeted(identity);
    }
  }

  record TriggerLost(String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.triggerLost(at);
    }
  }

  /** The trigger said something without being asked; a lapse remembers what its battery is. */
  record TriggerNoticed(String kind, String text) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.isLapse() ? state.withLapse(state.lapse().with(this, at)) : state;
    }
  }

  record SceneMetered(Ev ev) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withMeter(ev);
    }
  }

  record MeterUnread(String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.meterUnread();
    }
  }

  /**
   * A shot is decided on, and why, in words for the photographer.
   *
   * @param exposure what is to be set; absent where the camera keeps its own
   * @param settles what its frame is expected to settle
   * @param framesLeft how many frames are expected from this one on, itself included
   * @param secondsLeft how long they take, once a frame's overhead has been measured
   */
  record ShotPlanned(
      int shot,
      int attempt,
      Optional<Exposure> exposure,
      String reason,
      String settles,
      int framesLeft,
      Optional<Double> secondsLeft)
      implements Event {
    /** A record from before what is to come was foretold says nothing of it. */
    public ShotPlanned {
      settles = settles == null ? "" : settles;
      secondsLeft = secondsLeft == null ? Optional.empty() : secondsLeft;
      exposure = exposure == null ? Optional.empty() : exposure;
    }

    public ShotPlanned(
        int shot,
        int attempt,
        Exposure exposure,
        String reason,
        String settles,
        int framesLeft,
        Optional<Double> secondsLeft) {
      this(shot, attempt, Optional.of(exposure), reason, settles, framesLeft, secondsLeft);
    }

    @Override
    public State applyTo(State state, Instant at) {
      return state.isLapse()
          ? state.withLapse(state.lapse().with(this))
          : state.withShot(Shot.planned(shot, attempt, exposure, at));
    }
  }

  /**
   * What the photographer is asked to do by hand for a shot.
   *
   * @param turns of dials, one after the other; none where the dials stand right
   * @param words all of it, in sentences
   */
  record DialAsked(int shot, List<DialStep> turns, String words) implements Event {
    public DialAsked {
      turns = List.copyOf(turns);
    }

    @Override
    public State applyTo(State state, Instant at) {
      return state.isLapse() ? state.withLapse(state.lapse().with(this, at)) : state;
    }
  }

  /**
   * One turn of one dial.
   *
   * @param way longer, shorter, to plus, …
   * @param to what the dial shows then
   */
  record DialStep(String dial, int clicks, String way, String to) {
    static List<DialStep> of(List<DialTurn> turns) {
      return turns.stream()
          .map(one -> new DialStep(one.dial().label(), one.clicks(), one.way(), one.to()))
          .toList();
    }
  }

  /** Written before a byte of the command leaves. */
  record ShotCommanded(int shot, int attempt, Optional<Exposure> exposure) implements Event {
    public ShotCommanded {
      exposure = exposure == null ? Optional.empty() : exposure;
    }

    public ShotCommanded(int shot, int attempt, Exposure exposure) {
      this(shot, attempt, Optional.of(exposure));
    }

    @Override
    public State applyTo(State state, Instant at) {
      return state.withShot(state.shot(shot).commanded(at));
    }
  }

  record ShotConfirmed(int shot) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withShot(state.shot(shot).answered(Shot.Standing.CONFIRMED, at));
    }
  }

  record ShotUnconfirmed(int shot, String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withShot(state.shot(shot).answered(Shot.Standing.UNCONFIRMED, at));
    }
  }

  record ShotRefused(int shot, String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      Shot refused = state.shot(shot).answered(Shot.Standing.REFUSED, at);
      return state.withShot(
          refused.isAwaitingFrame() ? refused : refused.settled(refused.standing(), at));
    }
  }

  record ShotLost(int shot, String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withShot(state.shot(shot).settled(Shot.Standing.LOST, at));
    }
  }

  /**
   * A frame is a shot's.
   *
   * @param exposure what it was really taken with
   * @param late whether the shot had been given up
   * @param clock what was learned of the camera's clock
   */
  record FrameAccepted(
      int shot,
      Match.Proof matched,
      boolean late,
      Exposure exposure,
      FrameReading frame,
      Ev reachLowEv,
      Ev reachHighEv,
      Share clippedFraction,
      Share belowFloorFraction,
      Optional<CameraClock> clock)
      implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withFrame(this, at);
    }
  }

  /**
   * The raw file of an accepted frame's shutter press is here: its numbers take the place of the
   * JPEG's. It is no frame more.
   *
   * @param replaces the file whose numbers these replace
   */
  record FrameRefined(
      int shot,
      String replaces,
      FrameReading frame,
      Ev reachLowEv,
      Ev reachHighEv,
      Share clippedFraction,
      Share belowFloorFraction)
      implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withRefined(this);
    }

    FrameAccepted inPlaceOf(FrameAccepted accepted) {
      return new FrameAccepted(
          accepted.shot(),
          accepted.matched(),
          accepted.late(),
          accepted.exposure(),
          frame,
          reachLowEv,
          reachHighEv,
          clippedFraction,
          belowFloorFraction,
          accepted.clock());
    }
  }

  /** A frame that is no shot's: recorded and left alone. */
  record FrameStray(String file, String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withSeen(file);
    }
  }

  /** A file that cannot be read as a frame. */
  record FrameSkipped(String file, String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withSeen(file);
    }
  }

  /**
   * The scene's light has changed during the set, by what frames show of one another.
   *
   * @param stops brighter than at the first frame; negative for darker
   * @param why in words for the photographer
   */
  record LightDrifted(Stops stops, String why) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state;
    }
  }

  /** What is known of the span after a frame. */
  record SpanEstimated(SpanEstimate span) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withSpan(span);
    }
  }

  record FolderLost(String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.folderLost(at);
    }
  }

  record FolderReturned() implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.folderReturned(at);
    }
  }

  record SessionHeld() implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withHeld(true);
    }
  }

  record SessionContinued() implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withHeld(false);
    }
  }

  /**
   * A frame of a tether landed and was held against the reference frame.
   *
   * @param index from 1, in the order of landing; that of an earlier record where a raw file's
   *     numbers take the place of its JPEG's
   * @param deviation from the reference frame, where there was one and it could be told
   * @param findings what there is to say of it, the worst first
   */
  record FrameWatched(
      int index, FrameReading frame, Optional<Deviation> deviation, List<Finding> findings)
      implements Event {
    public FrameWatched {
      findings = List.copyOf(findings);
    }

    @Override
    public State applyTo(State state, Instant at) {
      return state.withTether(state.tether().with(this, at));
    }
  }

  /** A frame is the reference frame from now on; with the grey card or target in it, if any. */
  record ReferenceMarked(String file, Optional<Patch> patch) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withTether(state.tether().with(this));
    }
  }

  /** What the photographer says of a frame; it takes the place of what was said before. */
  record FrameMarked(String file, Mark mark, String note) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withTether(state.tether().with(this));
    }
  }

  /**
   * An operator asked for a release of a tether's camera; the count-down runs from now on.
   *
   * @param countSeconds how long it is; 0 for none
   */
  record ReleaseAsked(int shot, int countSeconds) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state
          .withShot(Shot.planned(shot, 1, Optional.empty(), at))
          .withTether(state.tether().with(this));
    }
  }

  /** A release was taken back before it was commanded. */
  record ReleaseWithdrawn(int shot, String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withShot(state.shot(shot).settled(Shot.Standing.WITHDRAWN, at));
    }
  }

  /**
   * A frame that landed is what a release brought.
   *
   * @param matched by what that is known
   */
  record ReleaseAnswered(int shot, String file, Match.Proof matched) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withShot(state.shot(shot).framed(1, at));
    }
  }

  /** The last record of a session: how it ended, and with what. Its kind is the setup's. */
  sealed interface Report extends Event {
    String kind();

    Stopped stopped();

    /** Why it ended, in words for the photographer. */
    String why();

    double elapsedSeconds();

    @Override
    default State applyTo(State state, Instant at) {
      return state.withReport(this);
    }
  }

  /** A bracket's report. */
  record BracketReport(
      String kind,
      boolean covered,
      Stopped stopped,
      String why,
      Optional<Ev> spanLowEv,
      Optional<Ev> spanHighEv,
      List<ReportFrame> frames,
      Stops openAboveStops,
      Stops openBelowStops,
      Stops gapStops,
      double elapsedSeconds,
      List<CoveragePoint> coverage,
      List<String> holes)
      implements Report {
    /** A record from before the coverage was written says nothing of it. */
    public BracketReport {
      coverage = coverage == null ? List.of() : List.copyOf(coverage);
      holes = holes == null ? List.of() : List.copyOf(holes);
    }
  }

  /**
   * The best and the merged signal-to-noise at one scene EV; 0 where every frame clips.
   *
   * @param best of the single frames
   * @param merged of all of them together, √Σ SNR²
   */
  record CoveragePoint(Ev ev, double best, double merged) {}

  /**
   * A frame of the report.
   *
   * @param inSet whether the cover needs it; the others can be left out of a merge
   */
  record ReportFrame(
      int index,
      String file,
      Shutter shutterSeconds,
      Aperture aperture,
      Iso iso,
      Ev ev,
      Share clippedFraction,
      Share belowFloorFraction,
      Ev reachLowEv,
      Ev reachHighEv,
      boolean inSet) {}

  /** A tether's report. */
  record TetherReport(
      String kind,
      Stopped stopped,
      String why,
      Optional<String> reference,
      List<TetherFrame> frames,
      double elapsedSeconds)
      implements Report {
    public TetherReport {
      frames = List.copyOf(frames);
    }
  }

  /**
   * A frame of a tether's report.
   *
   * @param exposureStops how much brighter than the reference frame
   * @param redStops how much redder, against green
   * @param blueStops how much bluer, against green
   * @param findings the kinds of what there was to say of it
   */
  record TetherFrame(
      int index,
      String file,
      Optional<Shutter> shutterSeconds,
      Optional<Aperture> aperture,
      Optional<Iso> iso,
      Optional<Stops> exposureStops,
      Optional<Stops> redStops,
      Optional<Stops> blueStops,
      List<String> findings,
      Mark mark,
      String note) {
    public TetherFrame {
      findings = List.copyOf(findings);
    }
  }

  /**
   * A lapse's grid is laid: from now on each frame has its time.
   *
   * @param start when the first is due
   * @param believed the scene's EV until a frame is read
   * @param offset by hand: how much brighter the first frame came out than the wish has it; it
   *     stands for what is wanted, and all brightness counts from there
   */
  record LapseBegan(Instant start, Ev believed, Optional<Stops> offset) implements Event {
    /** A record of a lapse with a trigger has none. */
    public LapseBegan {
      offset = offset == null ? Optional.empty() : offset;
    }

    public LapseBegan(Instant start, Ev believed) {
      this(start, believed, Optional.empty());
    }

    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().with(this));
    }
  }

  /**
   * A frame is taken to check the rig, before the grid is laid. Written before a byte of the
   * command leaves.
   *
   * @param shot 1 or 2
   */
  record RigShotCommanded(int shot, Exposure exposure) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().withTrial(state.lapse().trial().with(this, at)));
    }
  }

  /**
   * The frame of such a shot is here.
   *
   * @param seconds from the command to the whole file
   * @param brightness against mid grey, where there is any
   */
  record RigShotFramed(
      int shot,
      double seconds,
      Optional<Stops> brightness,
      Steadiness steadiness,
      FrameReading frame)
      implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(
          state.lapse().withTrial(state.lapse().trial().with(this)).withSeen(frame.file()));
    }
  }

  /** No frame of such a shot came. */
  record RigShotFailed(int shot, String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().withTrial(state.lapse().trial().with(this)));
    }
  }

  /** The rig has been checked: what there is to say of it. */
  record RigChecked(List<RigFinding> findings) implements Event {
    public RigChecked {
      findings = List.copyOf(findings);
    }

    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().withTrial(state.lapse().trial().judged()));
    }
  }

  /**
   * Something that the check of the rig found.
   *
   * @param kind a word for it
   * @param weight {@code good}, {@code warning}, or {@code fault} for what would ruin the lapse
   * @param words in sentences, for the photographer
   */
  record RigFinding(String kind, String weight, String words) {
    public static final String GOOD = "good";
    public static final String WARNING = "warning";
    public static final String FAULT = "fault";
  }

  /**
   * A lapse's next shot is decided on.
   *
   * @param place on the grid, from 1
   * @param seconds when it is due, since the start
   * @param wish how bright the picture is meant to be against mid grey
   * @param forecast the scene's EV that is expected then
   * @param wanted the EV that would make it exactly as bright as meant
   * @param blind whether it is by the forecast alone, because frames do not arrive
   */
  record ShotRamped(
      int shot,
      int place,
      double seconds,
      Exposure exposure,
      Stops wish,
      Ev forecast,
      Ev wanted,
      boolean blind,
      String reason)
      implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().with(this, at));
    }
  }

  /**
   * A lapse's frame is a shot's.
   *
   * @param late whether the shot had been given up
   * @param exposure what it was really taken with
   * @param brightness of the photographer's part of the picture against mid grey, where there is
   *     any
   * @param headroom by how much it could have been brighter before more clips than may
   * @param clock what was learned of the camera's clock
   * @param steadiness whether camera and lens are as they were
   */
  record FrameMatched(
      int shot,
      Match.Proof matched,
      boolean late,
      Exposure exposure,
      Optional<Stops> brightness,
      Optional<Stops> headroom,
      Optional<CameraClock> clock,
      Steadiness steadiness,
      FrameReading frame)
      implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().with(this, at));
    }
  }

  /**
   * Whose a lapse's frame is the next ones have to prove.
   *
   * @param shot that it would be by what is known of the camera's clock; 0 if none
   * @param brightness of the photographer's part of the picture against mid grey, where there is
   *     any
   */
  record FrameDoubted(int shot, Optional<Stops> brightness, String reason, FrameReading frame)
      implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().with(this, at));
    }
  }

  /** Places on the grid at which no frame was taken, the last one included. */
  record PlacesSkipped(int from, int to, String reason) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().with(this));
    }
  }

  /**
   * Something that the photographer would want to know at once.
   *
   * @param kind a word for it
   * @param words for the photographer
   * @param since when what it is about began, where that was before it was told
   */
  record AlarmRaised(String kind, String words, Optional<Instant> since) implements Event {
    /** A record from before that was written says nothing of it. */
    public AlarmRaised {
      since = since == null ? Optional.empty() : since;
    }

    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().withAlarm(kind, true));
    }
  }

  /** It is over. */
  record AlarmEnded(String kind, String words) implements Event {
    @Override
    public State applyTo(State state, Instant at) {
      return state.withLapse(state.lapse().withAlarm(kind, false));
    }
  }

  /**
   * A lapse's report.
   *
   * @param frames every shot that was fired and not refused, by its place on the grid
   * @param rmsErrorStops of the brightness less what was meant, before evening
   * @param largestErrorStops of the same, in size
   * @param sigmaStops as taken: the deviation from a local regression over 25 frames
   * @param evenedSigmaStops the same with the evening gains
   * @param evenedLargestStops the largest such deviation with the evening gains
   * @param settingChanges how often shutter or ISO differed from the frame before
   * @param framesLost shots of which no frame came
   * @param placesSkipped places on the grid at which no frame was taken
   */
  record LapseReport(
      String kind,
      Stopped stopped,
      String why,
      double intervalSeconds,
      List<LapseLine> frames,
      Optional<Stops> rmsErrorStops,
      Optional<Stops> largestErrorStops,
      Stops sigmaStops,
      Stops largestStops,
      Stops evenedSigmaStops,
      Stops evenedLargestStops,
      int settingChanges,
      int framesLost,
      int placesSkipped,
      double elapsedSeconds)
      implements Report {
    public LapseReport {
      frames = List.copyOf(frames);
    }
  }

  /**
   * A frame of a lapse's report.
   *
   * @param index its place on the grid, from 1
   * @param seconds when it was due, since the start
   * @param file absent where none came
   * @param exposure what it was taken with
   * @param wishStops how much brighter than mid grey it was meant to be
   * @param errorStops how much brighter than that it is, where it was read
   * @param gainStops the evening gain, to add in development
   */
  record LapseLine(
      int index,
      double seconds,
      Optional<String> file,
      Exposure exposure,
      Stops wishStops,
      Optional<Stops> errorStops,
      Optional<Stops> gainStops) {}
}
