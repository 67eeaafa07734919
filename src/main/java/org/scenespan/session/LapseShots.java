package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.UnaryOperator;

/**
 * The shots of a lapse whose frames may still come, and those that were settled a short while ago.
 * However long the lapse, there are not more than so many.
 *
 * @param list by their numbers
 */
record LapseShots(List<LapseShot> list) {
  static final LapseShots NONE = new LapseShots(List.of());

  /** A frame that comes later than this after its shot was due is nobody's. Below a zone's step. */
  private static final Duration LATEST = Duration.ofMinutes(10);

  /** Shots that are remembered at most: an hour of a lapse at ten seconds without its folder. */
  private static final int MOST = 512;

  /** Frames from which it is known how prompt they are. */
  private static final int LEAST_LAGS = 3;

  LapseShots {
    list = List.copyOf(list);
  }

  Optional<LapseShot> find(int number) {
    for (int i = list.size() - 1; i >= 0; i--) {
      if (list.get(i).number() == number) {
        return Optional.of(list.get(i));
      }
    }
    return Optional.empty();
  }

  /** These and a new one, without those that are settled and past any frame of theirs. */
  LapseShots plus(LapseShot next, Instant now) {
    List<LapseShot> kept = new ArrayList<>();
    for (LapseShot shot : list) {
      boolean past = !shot.isAwaitingFrame() && shot.due().plus(LATEST).isBefore(now);
      if (!past) {
        kept.add(shot);
      }
    }
    kept.add(next);
    return new LapseShots(
        kept.size() <= MOST ? kept : kept.subList(kept.size() - MOST, kept.size()));
  }

  /** With what is known now of the shot of that number. */
  LapseShots with(LapseShot shot) {
    return each(old -> old.number() == shot.number() ? shot : old);
  }

  /** With how the shot of that number stands now. */
  LapseShots with(Shot shot) {
    return each(old -> old.number() == shot.number() ? old.with(shot) : old);
  }

  /** No answer will come any more to what the trigger was told. */
  LapseShots withoutAnswers(Instant at) {
    return each(
        old ->
            old.shot().isAwaitingAnswer()
                ? old.with(old.shot().answered(Shot.Standing.UNCONFIRMED, at))
                : old);
  }

  /** Nothing is waited for any more. */
  LapseShots givenUp(Instant at) {
    return each(
        old ->
            old.isAwaitingFrame() || old.shot().standing() == Shot.Standing.PLANNED
                ? old.with(old.shot().settled(Shot.Standing.LOST, at))
                : old);
  }

  private LapseShots each(UnaryOperator<LapseShot> change) {
    List<LapseShot> changed = new ArrayList<>(list);
    changed.replaceAll(change);
    return new LapseShots(changed);
  }

  /**
   * After how long at most the promptest quarter of the frames came; absent before there are a few:
   * a first one that was late would make every late one seem prompt.
   */
  Optional<Duration> usualLag() {
    List<Duration> lags = new ArrayList<>();
    for (LapseShot shot : list) {
      shot.shot()
          .framedAt()
          .filter(came -> shot.isTaken())
          .ifPresent(came -> lags.add(Duration.between(shot.due().plus(shot.exposing()), came)));
    }
    lags.sort(Duration::compareTo);
    return lags.size() < LEAST_LAGS ? Optional.empty() : Optional.of(lags.get(lags.size() / 4));
  }
}
