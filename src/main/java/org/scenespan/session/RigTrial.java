package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.light.Exposure;

/**
 * The two frames that are taken before a lapse to see that the rig does what it is told. They are
 * none of the lapse's. Immutable.
 *
 * @param shots those that were commanded, by number
 * @param over whether it has been judged
 */
public record RigTrial(List<RigShot> shots, boolean over) {
  static final RigTrial NONE = new RigTrial(List.of(), false);

  static final int SHOTS = 2;

  public RigTrial {
    shots = List.copyOf(shots);
  }

  /**
   * One of them.
   *
   * @param number 1 or 2
   * @param exposure that was commanded
   * @param at when
   * @param frame its frame, once that is here
   * @param failed why there is none, once it has been given up
   */
  public record RigShot(
      int number,
      Exposure exposure,
      Instant at,
      Optional<Event.RigShotFramed> frame,
      Optional<String> failed) {
    boolean isOpen() {
      return frame.isEmpty() && failed.isEmpty();
    }

    /** Until when its frame is waited for. */
    Instant latest(Patience patience) {
      return at.plus(Matching.time(exposure)).plus(patience.frame());
    }

    Duration after(Instant now) {
      return Duration.between(at, now);
    }
  }

  /** The number by which the trigger knows a shot: no shot of a lapse has it. */
  static int released(int number) {
    return LapseSetup.MOST_FRAMES + number;
  }

  boolean isUnderWay() {
    return !over && !shots.isEmpty();
  }

  Optional<RigShot> open() {
    return over ? Optional.empty() : shots.stream().filter(RigShot::isOpen).findFirst();
  }

  Optional<RigShot> released(Input.ReleaseRefused refused) {
    return shots.stream().filter(it -> released(it.number()) == refused.shot()).findFirst();
  }

  RigTrial with(Event.RigShotCommanded commanded, Instant at) {
    List<RigShot> more = new ArrayList<>(shots);
    more.add(
        new RigShot(
            commanded.shot(), commanded.exposure(), at, Optional.empty(), Optional.empty()));
    return new RigTrial(more, false);
  }

  RigTrial with(Event.RigShotFramed framed) {
    return replaced(
        framed.shot(),
        it ->
            new RigShot(
                it.number(), it.exposure(), it.at(), Optional.of(framed), Optional.empty()));
  }

  RigTrial with(Event.RigShotFailed failed) {
    return replaced(
        failed.shot(),
        it ->
            new RigShot(
                it.number(), it.exposure(), it.at(), it.frame(), Optional.of(failed.reason())));
  }

  private RigTrial replaced(int number, java.util.function.UnaryOperator<RigShot> change) {
    return new RigTrial(
        shots.stream().map(it -> it.number() == number ? change.apply(it) : it).toList(), over);
  }

  /** It has been judged: what it was judged by is in the journal. */
  RigTrial judged() {
    return new RigTrial(List.of(), true);
  }
}
