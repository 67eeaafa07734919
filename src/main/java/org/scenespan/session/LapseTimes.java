package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * When what is due in a lapse.
 *
 * @param state of a lapse
 */
record LapseTimes(State state) {
  /** A shot is decided on so long before it is due, so that its record is on disk by then. */
  private static final Duration LEAD = Duration.ofMillis(150);

  /** At most this part of the interval. */
  private static final int LEAD_PART = 8;

  /** A shot may be late by this part of the interval; later, its place is passed over. */
  private static final int LATE_PART = 4;

  private static final int LATE_PATIENCES = 4;

  /** For how long after its exposure the frame of a lost shot is reckoned with. */
  static Duration lateFor(LapseSetup setup) {
    return setup.patience().frame().multipliedBy(LATE_PATIENCES);
  }

  private LapseSetup setup() {
    return (LapseSetup) state.opened();
  }

  private LapseRun run() {
    return state.lapse();
  }

  private Duration interval() {
    return setup().cadence().interval();
  }

  Duration lead() {
    Duration part = interval().dividedBy(LEAD_PART);
    return part.compareTo(LEAD) < 0 ? part : LEAD;
  }

  /** When the shot of a place is due; the grid is laid. */
  Instant due(int place) {
    return run().start().orElseThrow().plus(setup().cadence().due(place));
  }

  /** Until when it may still be taken. */
  Instant latest(int place) {
    return due(place).plus(interval().dividedBy(LATE_PART));
  }

  /** The first place that is not yet past. */
  int present(Instant now) {
    int place = run().lastPlace() + 1;
    Duration behind = Duration.between(latest(place), now);
    if (behind.isNegative() || behind.isZero()) {
      return place;
    }
    long passed = behind.dividedBy(interval()) + 1;
    return (int) Math.min(setup().cadence().frames() + 1L, place + passed);
  }

  /** Whether every place has been used or passed over, or is past. */
  boolean isGridOver(Instant now) {
    return run().start().isPresent() && present(now) > setup().cadence().frames();
  }

  /** Whether the next shot could be fired if it were due. */
  boolean mayFire() {
    return !state.held()
        && state.identity().isPresent()
        && run().shots().stream().noneMatch(each -> each.shot().isAwaitingAnswer())
        && (!setup().needsMeter() || state.metered().isPresent());
  }

  /** Until when a shot's frame is waited for. */
  Instant frame(LapseShot shot) {
    Patience patience = setup().patience();
    Instant exposed = shot.due().plus(shot.exposing());
    Instant base =
        shot.shot().answeredAt().isPresent()
            ? later(exposed, shot.shot().answeredAt().get())
            : exposed.plus(patience.answer());
    return later(base, state.graceFrom().orElse(base)).plus(patience.frame());
  }

  /** Until when the end of the grid is outlived for frames of which nobody knows. */
  Instant end() {
    Patience patience = setup().patience();
    return latest(setup().cadence().frames())
        .plus(Matching.time(setup().latitude().brightest()))
        .plus(patience.answer())
        .plus(patience.frame())
        .plus(patience.outage());
  }

  /** When the session has something to do by itself. */
  Optional<Instant> next(Instant now) {
    Optional<Instant> frame =
        state.folderLostAt().isPresent()
            ? Optional.empty()
            : run().shots().stream()
                .filter(LapseShot::isAwaitingFrame)
                .map(this::frame)
                .min(Instant::compareTo);
    if (run().start().isEmpty()) {
      return Stream.concat(
              frame.stream(),
              run().trial().open().map(it -> it.latest(setup().patience())).stream())
          .filter(it -> it.isAfter(now))
          .min(Instant::compareTo);
    }
    int place = run().lastPlace() + 1;
    int last = setup().cadence().frames();
    Optional<Instant> shot =
        place <= last ? Optional.of(due(place).minus(lead())) : Optional.empty();
    // One that cannot be fired is looked at again when something comes in, or at the grid's end.
    Optional<Instant> gridEnd = Optional.of(latest(last).plusMillis(1));
    return Stream.of(frame, shot.filter(it -> it.isAfter(now)), gridEnd, Optional.of(end()))
        .flatMap(Optional::stream)
        .filter(it -> it.isAfter(now))
        .min(Instant::compareTo);
  }

  private static Instant later(Instant one, Instant other) {
    return one.isAfter(other) ? one : other;
  }
}
