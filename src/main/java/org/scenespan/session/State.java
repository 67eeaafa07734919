package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.light.Ev;
import org.scenespan.plan.Evidence;
import org.scenespan.plan.SpanEstimate;

/**
 * All that a session knows: a fold over its events. Immutable.
 *
 * @param setup what it was started with; absent before the first event
 * @param openedAt when
 * @param identity the trigger's, while it is there
 * @param triggerLostAt since when the trigger is gone
 * @param folderLostAt since when the folder is gone
 * @param graceFrom from when on waiting for a frame is counted anew: a restart, or the folder's
 *     return
 * @param metered the meter's reading
 * @param meterFailures how often the meter could not be read
 * @param shots all shots, by number
 * @param frames accepted frames, in the order of acceptance
 * @param seen files that are done with, accepted or not
 * @param clock what is known of the camera's clock
 * @param span what is known of the scene
 * @param held whether the photographer holds the session
 * @param report how it ended
 * @param tether what a tether knows beyond that; empty of any other session
 * @param lapse what a lapse knows, its shots included; empty of any other session
 */
public record State(
    Optional<Setup> setup,
    Optional<Instant> openedAt,
    Optional<String> identity,
    Optional<Instant> triggerLostAt,
    Optional<Instant> folderLostAt,
    Optional<Instant> graceFrom,
    Optional<Ev> metered,
    int meterFailures,
    List<Shot> shots,
    List<Event.FrameAccepted> frames,
    List<String> seen,
    Optional<CameraClock> clock,
    Optional<SpanEstimate> span,
    boolean held,
    Optional<Event.Report> report,
    TetherRun tether,
    LapseRun lapse) {
  /** Why a lapse's places are passed over while a wish of the page holds it. */
  private static final String HELD = "it was held";

  /** Before the first event. */
  public static final State EMPTY =
      new State(
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          Optional.empty(),
          0,
          List.of(),
          List.of(),
          List.of(),
          Optional.empty(),
          Optional.empty(),
          false,
          Optional.empty(),
          TetherRun.EMPTY,
          LapseRun.EMPTY);

  public State {
    shots = List.copyOf(shots);
    frames = List.copyOf(frames);
    seen = List.copyOf(seen);
  }

  /** The state after some events that happened at one instant. */
  public State after(List<Event> events, Instant at) {
    State state = this;
    for (Event event : events) {
      state = event.applyTo(state, at);
    }
    return state;
  }

  public boolean isClosed() {
    return report.isPresent();
  }

  /** The session's setup; there is one from the first event on. */
  public Setup opened() {
    return setup.orElseThrow(() -> new IllegalStateException("the session is not opened yet"));
  }

  /** The setup of a session that is a bracket. */
  public BracketSetup bracket() {
    if (opened() instanceof BracketSetup bracket) {
      return bracket;
    }
    throw new IllegalStateException("the session is a " + opened().kind() + ", not a bracket");
  }

  /** Whether the session is a lapse, whose shots are kept apart. */
  public boolean isLapse() {
    return setup.filter(LapseSetup.class::isInstance).isPresent();
  }

  public Shot shot(int number) {
    return isLapse() ? lapse.shot(number).orElseThrow().shot() : shots.get(number - 1);
  }

  /** The shot whose frame is being waited for, if one is. */
  public Optional<Shot> awaited() {
    return shots.stream().filter(Shot::isAwaitingFrame).findFirst();
  }

  /** The frames as evidence for the plan, in the light of the last one. */
  public List<Evidence> evidence() {
    return new FramePairs(frames).evidence();
  }

  /**
   * What a frame costs beyond its exposure, from the command to its acceptance: the median over the
   * frames that came as they should; absent before the first.
   */
  public Optional<Duration> overhead() {
    List<Duration> costs =
        shots.stream()
            .filter(shot -> shot.standing() == Shot.Standing.TAKEN)
            .map(Shot::overhead)
            .flatMap(Optional::stream)
            .sorted()
            .toList();
    return costs.isEmpty() ? Optional.empty() : Optional.of(costs.get(costs.size() / 2));
  }

  static State opened(Setup setup, Instant at) {
    State opened = EMPTY.with().setup(setup, at).build();
    return setup instanceof LapseSetup lapse ? opened.withLapse(LapseRun.opened(lapse)) : opened;
  }

  State resumed(Instant at) {
    if (isLapse()) {
      Changes changes = with().identity(Optional.empty(), Optional.empty());
      changes.folderLostAt = Optional.empty();
      LapseRun resumed = lapse.withoutAnswers(at).resumed(at);
      changes.lapse = held ? resumed.withObstacle(HELD) : resumed;
      return changes.build();
    }
    Changes changes = withoutAnswers(at).with().identity(Optional.empty(), Optional.empty());
    changes.graceFrom = Optional.of(at);
    changes.folderLostAt = Optional.empty();
    // The host's clock may have been set between the two runs.
    changes.clock = Optional.empty();
    changes.tether = tether.resumed();
    return changes.build();
  }

  State triggerGreeted(String name) {
    return with().identity(Optional.of(name), Optional.empty()).build();
  }

  State triggerLost(Instant at) {
    Instant since = triggerLostAt.orElse(at);
    if (isLapse()) {
      Changes changes = with().identity(Optional.empty(), Optional.of(since));
      changes.lapse = lapse.withoutAnswers(at).withObstacle("the trigger was away");
      return changes.build();
    }
    return withoutAnswers(at).with().identity(Optional.empty(), Optional.of(since)).build();
  }

  /** No answer will come any more to what the trigger was told. */
  private State withoutAnswers(Instant at) {
    State state = this;
    for (Shot shot : shots) {
      if (shot.isAwaitingAnswer()) {
        state = state.withShot(shot.answered(Shot.Standing.UNCONFIRMED, at));
      }
    }
    return state;
  }

  State withMeter(Ev ev) {
    Changes changes = with();
    changes.metered = Optional.of(ev);
    return changes.build();
  }

  State meterUnread() {
    Changes changes = with();
    changes.meterFailures++;
    return changes.build();
  }

  State withShot(Shot shot) {
    if (isLapse()) {
      return withLapse(lapse.withShot(shot));
    }
    Changes changes = with();
    changes.shots = new ArrayList<>(shots);
    if (shot.number() == shots.size() + 1) {
      changes.shots.add(shot);
    } else {
      changes.shots.set(shot.number() - 1, shot);
    }
    return changes.build();
  }

  State withFrame(Event.FrameAccepted frame, Instant at) {
    int expected = opened().gear().framesPerRelease();
    Changes changes = withShot(shot(frame.shot()).framed(expected, at)).with();
    changes.frames = new ArrayList<>(frames);
    changes.frames.add(frame);
    changes.seen = new ArrayList<>(seen);
    changes.seen.add(frame.frame().file());
    if (frame.clock().isPresent()) {
      changes.clock = frame.clock();
    }
    return changes.build();
  }

  /** The newest frame of a name gives way to what was read of the same shutter press. */
  State withRefined(Event.FrameRefined refined) {
    Changes changes = withSeen(refined.frame().file()).with();
    changes.frames = new ArrayList<>(frames);
    for (int i = frames.size() - 1; i >= 0; i--) {
      if (frames.get(i).frame().file().equals(refined.replaces())) {
        changes.frames.set(i, refined.inPlaceOf(frames.get(i)));
        return changes.build();
      }
    }
    throw new IllegalArgumentException("no frame " + refined.replaces() + " was accepted");
  }

  State withSeen(String file) {
    if (isLapse()) {
      return withLapse(lapse.withSeen(file));
    }
    Changes changes = with();
    changes.seen = new ArrayList<>(seen);
    changes.seen.add(file);
    return changes.build();
  }

  State withSpan(SpanEstimate estimate) {
    Changes changes = with();
    changes.span = Optional.of(estimate);
    return changes.build();
  }

  State folderLost(Instant at) {
    Changes changes = with();
    changes.folderLostAt = Optional.of(folderLostAt.orElse(at));
    return changes.build();
  }

  State folderReturned(Instant at) {
    Changes changes = with();
    changes.folderLostAt = Optional.empty();
    changes.graceFrom = Optional.of(at);
    if (isLapse()) {
      changes.lapse = lapse.withFolderBack(at);
    }
    return changes.build();
  }

  State withHeld(boolean on) {
    Changes changes = with();
    changes.held = on;
    if (isLapse() && on) {
      changes.lapse = lapse.withObstacle(HELD);
    }
    return changes.build();
  }

  State withReport(Event.Report end) {
    Changes changes = with();
    changes.report = Optional.of(end);
    return changes.build();
  }

  State withTether(TetherRun run) {
    Changes changes = with();
    changes.tether = run;
    return changes.build();
  }

  State withLapse(LapseRun run) {
    Changes changes = with();
    changes.lapse = run;
    return changes.build();
  }

  private Changes with() {
    return new Changes(this);
  }

  /** The parts of a state that is being made from another. */
  private static final class Changes {
    private Optional<Setup> setup;
    private Optional<Instant> openedAt;
    private Optional<String> identity;
    private Optional<Instant> triggerLostAt;
    private Optional<Instant> folderLostAt;
    private Optional<Instant> graceFrom;
    private Optional<Ev> metered;
    private int meterFailures;
    private List<Shot> shots;
    private List<Event.FrameAccepted> frames;
    private List<String> seen;
    private Optional<CameraClock> clock;
    private Optional<SpanEstimate> span;
    private boolean held;
    private Optional<Event.Report> report;
    private TetherRun tether;
    private LapseRun lapse;

    Changes(State from) {
      setup = from.setup;
      openedAt = from.openedAt;
      identity = from.identity;
      triggerLostAt = from.triggerLostAt;
      folderLostAt = from.folderLostAt;
      graceFrom = from.graceFrom;
      metered = from.metered;
      meterFailures = from.meterFailures;
      shots = from.shots;
      frames = from.frames;
      seen = from.seen;
      clock = from.clock;
      span = from.span;
      held = from.held;
      report = from.report;
      tether = from.tether;
      lapse = from.lapse;
    }

    Changes setup(Setup any, Instant at) {
      setup = Optional.of(any);
      openedAt = Optional.of(at);
      return this;
    }

    Changes identity(Optional<String> name, Optional<Instant> lostAt) {
      identity = name;
      triggerLostAt = lostAt;
      return this;
    }

    State build() {
      return new State(
          setup,
          openedAt,
          identity,
          triggerLostAt,
          folderLostAt,
          graceFrom,
          metered,
          meterFailures,
          shots,
          frames,
          seen,
          clock,
          span,
          held,
          report,
          tether,
          lapse);
    }
  }
}
