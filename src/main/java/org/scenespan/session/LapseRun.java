package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Consumer;
import org.scenespan.light.Exposure;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;
import org.scenespan.plan.ramp.Ramp;
import org.scenespan.plan.ramp.RampChoice;
import org.scenespan.plan.ramp.Sighting;

/**
 * What a lapse knows beyond any session: the grid, the ramp, the shots whose frames may still come.
 * Immutable, and of the same size however long the lapse; only the account of its frames grows, and
 * that is shared.
 */
public final class LapseRun {
  static final LapseRun EMPTY = new LapseRun();

  /** Frames that wait for the next one to prove whose they are. */
  static final int MOST_DOUBTED = 8;

  /**
   * A frame that waits for the next ones to prove whose it is.
   *
   * @param at when it was read
   */
  public record Waiting(Event.FrameDoubted frame, Instant at) {}

  private LapseSetup setup;
  private Optional<Instant> start = Optional.empty();
  private Optional<Ramp> ramp = Optional.empty();
  private int lastShot;
  private int lastPlace;
  private LapseShots shots = LapseShots.NONE;
  private Optional<CameraClock> clock = Optional.empty();
  private Instant clockAt = Instant.MIN;
  private List<Waiting> doubted = List.of();
  private Chronicle<LapseFrame> fired = Chronicle.empty();
  private Chronicle<LapseFrame> frames = Chronicle.empty();
  private Chronicle<String> files = Chronicle.empty();
  private Chronicle<Integer> refused = Chronicle.empty();
  private Optional<String> obstacle = Optional.empty();
  private Optional<Instant> framedUntil = Optional.empty();
  private List<String> alarms = List.of();
  private int skipped;
  private int since;
  private Optional<Instant> folderBack = Optional.empty();
  private RigTrial trial = RigTrial.NONE;
  private Vigil vigil = Vigil.NONE;
  private HandRun hand = HandRun.NONE;

  private LapseRun() {}

  private LapseRun with(Consumer<LapseRun> change) {
    LapseRun next = new LapseRun();
    next.setup = setup;
    next.start = start;
    next.ramp = ramp;
    next.lastShot = lastShot;
    next.lastPlace = lastPlace;
    next.shots = shots;
    next.clock = clock;
    next.clockAt = clockAt;
    next.doubted = doubted;
    next.fired = fired;
    next.frames = frames;
    next.files = files;
    next.refused = refused;
    next.obstacle = obstacle;
    next.framedUntil = framedUntil;
    next.alarms = alarms;
    next.skipped = skipped;
    next.since = since;
    next.folderBack = folderBack;
    next.trial = trial;
    next.vigil = vigil;
    next.hand = hand;
    change.accept(next);
    return next;
  }

  static LapseRun opened(LapseSetup setup) {
    return EMPTY.with(it -> it.setup = setup);
  }

  /** When the first frame is due; absent until the first exposure can be chosen. */
  public Optional<Instant> start() {
    return start;
  }

  public Optional<Ramp> ramp() {
    return ramp;
  }

  /** The number of the last shot, 0 before the first. */
  public int lastShot() {
    return lastShot;
  }

  /** The last place on the grid that was used or passed over, 0 before the first. */
  public int lastPlace() {
    return lastPlace;
  }

  /** Shots whose frame may still come, and those that were settled a short while ago. */
  public List<LapseShot> shots() {
    return shots.list();
  }

  /** What is known of the camera's clock. */
  public Optional<CameraClock> clock() {
    return clock;
  }

  /** When that was last confirmed. */
  Instant clockAt() {
    return clockAt;
  }

  /** Frames that wait for the next one to prove whose they are. */
  public List<Waiting> doubted() {
    return doubted;
  }

  /** All shots, as they were fired. */
  public Chronicle<LapseFrame> fired() {
    return fired;
  }

  /** All frames that are a shot's, in the order of acceptance. */
  public Chronicle<LapseFrame> frames() {
    return frames;
  }

  /** Names of all files that are done with. */
  public Chronicle<String> files() {
    return files;
  }

  /** What keeps the next frame from being taken, or did last. */
  Optional<String> obstacle() {
    return obstacle;
  }

  /** When the latest frame that is here was due. */
  Optional<Instant> framedUntil() {
    return framedUntil;
  }

  /** The kinds of alarm that are on. */
  public List<String> alarms() {
    return alarms;
  }

  /** Places on the grid that were passed over. */
  public int skipped() {
    return skipped;
  }

  /** Shots since the latest whose frame is here. */
  public int shotsSinceFrame() {
    return since;
  }

  /** The check of the rig before the grid is laid. */
  RigTrial trial() {
    return trial;
  }

  /** How things stand by what the last frames told. */
  Vigil vigil() {
    return vigil;
  }

  LapseRun with(Event.TriggerNoticed noticed, Instant at) {
    return with(it -> it.vigil = Supply.charge(noticed, at).map(vigil::with).orElse(vigil));
  }

  LapseRun withTrial(RigTrial next) {
    return with(it -> it.trial = next);
  }

  Optional<LapseShot> shot(int number) {
    return shots.find(number);
  }

  LapseRun with(Event.LapseBegan began) {
    return with(
        it -> {
          it.start = Optional.of(began.start());
          it.hand = hand.with(began);
          it.ramp = Optional.of(Ramp.start(setup.ramp(began.start(), began.believed())));
        });
  }

  LapseRun with(Event.ShotRamped ramped, Instant at) {
    Instant due = start.orElseThrow().plus(setup.cadence().due(ramped.place()));
    RampChoice choice =
        new RampChoice(
            ramped.seconds(),
            ramped.exposure(),
            ramped.wish(),
            ramped.forecast(),
            ramped.wanted(),
            ramped.reason());
    Optional<LapseFrame> before = fired.newest();
    Exposure exposure =
        LapseFrame.shared(
            ramped.exposure(), before.map(LapseFrame::exposure).orElse(ramped.exposure()));
    Stops wish =
        LapseFrame.shared(ramped.wish(), before.map(LapseFrame::wish).orElse(ramped.wish()));
    Shot shot = Shot.planned(ramped.shot(), 1, Optional.of(exposure), at);
    LapseShot next =
        new LapseShot(shot, ramped.place(), due, wish, choice.expectedError(), Optional.empty());
    return with(
        it -> {
          it.shots = shots.plus(next, at);
          it.ramp = Optional.of(ramp.orElseThrow().afterChosen(choice));
          it.lastShot = ramped.shot();
          it.lastPlace = ramped.place();
          it.obstacle = Optional.empty();
          it.since = since + 1;
          it.fired =
              fired.plus(
                  new LapseFrame(
                      ramped.shot(),
                      ramped.place(),
                      ramped.seconds(),
                      exposure,
                      wish,
                      Optional.empty(),
                      Optional.empty()));
        });
  }

  LapseRun withShot(Shot shot) {
    boolean no = shot.standing() == Shot.Standing.REFUSED;
    return with(
        it -> {
          it.shots = shots.with(shot);
          it.refused = no ? refused.plus(shot.number()) : refused;
        });
  }

  /** Numbers of the shots that the trigger refused: they were certainly not taken. */
  public Chronicle<Integer> refused() {
    return refused;
  }

  LapseRun with(Event.PlacesSkipped passed) {
    return with(
        it -> {
          it.lastPlace = passed.to();
          it.skipped = skipped + passed.to() - passed.from() + 1;
        });
  }

  LapseRun with(Event.FrameMatched matched, Instant at) {
    LapseShot shot = shot(matched.shot()).orElseThrow();
    LapseShot taken = shot.with(shot.shot().framed(1, at)).taken(matched.frame());
    double seconds = seconds(shot.place());
    Share clipped = matched.frame().measure().clippedShare();
    boolean newest = framedUntil.isEmpty() || shot.due().isAfter(framedUntil.get());
    return with(
        it -> {
          it.shots = shots.with(taken);
          it.frames =
              frames.plus(
                  new LapseFrame(
                      shot.number(),
                      shot.place(),
                      seconds,
                      LapseFrame.shared(matched.exposure(), shot.exposure()),
                      shot.wish(),
                      Optional.of(matched.frame().file()),
                      matched.brightness()));
          it.files = files.plus(matched.frame().file());
          it.vigil = newest ? vigil.with(matched, shot) : vigil;
          it.doubted = without(matched.frame().file());
          if (matched.clock().isPresent()) {
            it.clock = matched.clock();
            it.clockAt = shot.due();
          }
          if (newest) {
            it.framedUntil = Optional.of(shot.due());
            it.since = lastShot - shot.number();
          }
          if (matched.brightness().isPresent()) {
            Stops brightness = matched.brightness().get();
            it.ramp =
                Optional.of(
                    ramp.orElseThrow()
                        .after(
                            Sighting.of(
                                seconds,
                                matched.exposure().ev(),
                                brightness,
                                clipped,
                                matched.headroom())));
          }
        });
  }

  private double seconds(int place) {
    return setup.cadence().due(place).toNanos() / 1e9;
  }

  private List<Waiting> without(String file) {
    return doubted.stream().filter(each -> !each.frame().frame().file().equals(file)).toList();
  }

  LapseRun with(Event.FrameDoubted frame, Instant at) {
    List<Waiting> more = new ArrayList<>(doubted);
    more.add(new Waiting(frame, at));
    return with(it -> it.doubted = List.copyOf(more));
  }

  /** How prompt the frames are, once it is known. */
  Optional<Duration> usualLag() {
    return shots.usualLag();
  }

  /** A file is nobody's, and done with. */
  LapseRun withSeen(String file) {
    return with(
        it -> {
          it.files = files.plus(file);
          it.doubted = without(file);
        });
  }

  /** When the folder last came back. */
  Optional<Instant> folderBack() {
    return folderBack;
  }

  LapseRun withFolderBack(Instant at) {
    return with(it -> it.folderBack = Optional.of(at));
  }

  LapseRun withObstacle(String words) {
    return with(it -> it.obstacle = Optional.of(words));
  }

  /** No answer will come any more to what the trigger was told. */
  LapseRun withoutAnswers(Instant at) {
    return with(it -> it.shots = shots.withoutAnswers(at));
  }

  /**
   * The program was started again: the host's clock may have been set in between, so that a frame
   * of a shot from before is only credited once a new one has shown that it was not.
   */
  LapseRun resumed(Instant at) {
    return with(
        it -> {
          it.shots = shots.givenUp(at);
          it.obstacle = Optional.of("the program was not running");
        });
  }

  /** What was asked of the photographer, where there is no trigger. */
  public HandRun hand() {
    return hand;
  }

  LapseRun with(Event.ShotPlanned planned) {
    return with(it -> it.hand = hand.with(planned));
  }

  LapseRun with(Event.DialAsked dial, Instant at) {
    return with(it -> it.hand = hand.with(dial, at));
  }

  LapseRun withAlarm(String kind, boolean on) {
    List<String> more = new ArrayList<>(alarms);
    more.remove(kind);
    if (on) {
      more.add(kind);
    }
    return with(
        it -> {
          it.alarms = List.copyOf(more);
          it.vigil = kind.equals(LapseAlarms.SOFT) ? vigil.withSoft(on) : vigil;
        });
  }

  /** The ramp has no equality of its own: what it would choose next tells it. */
  private Optional<RampChoice> nextChoice() {
    return ramp.map(it -> it.next(seconds(lastPlace + 1)));
  }

  private List<Object> parts() {
    List<Object> parts = new ArrayList<>();
    parts.add(Optional.ofNullable(setup));
    parts.add(start);
    parts.add(nextChoice());
    parts.add(lastShot);
    parts.add(lastPlace);
    parts.add(shots);
    parts.add(clock);
    parts.add(clockAt);
    parts.add(doubted);
    parts.add(fired);
    parts.add(frames);
    parts.add(files);
    parts.add(refused);
    parts.add(obstacle);
    parts.add(framedUntil);
    parts.add(alarms);
    parts.add(skipped);
    parts.add(since);
    parts.add(folderBack);
    parts.add(trial);
    parts.add(vigil);
    parts.add(hand);
    return parts;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof LapseRun that && parts().equals(that.parts());
  }

  @Override
  public int hashCode() {
    return Objects.hash(lastShot, lastPlace, skipped);
  }

  @Override
  public String toString() {
    return "a lapse at place " + lastPlace;
  }
}
