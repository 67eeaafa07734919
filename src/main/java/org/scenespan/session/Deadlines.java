package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.scenespan.frame.FrameSource;
import org.scenespan.light.Exposure;

/** Until when a session waits for what. */
final class Deadlines {
  /** A trigger that refuses is asked again after this long. */
  private static final Duration AFTER_REFUSAL = Duration.ofSeconds(1);

  private Deadlines() {}

  /** When the next wait of any kind is over, if there is one. */
  static Optional<Instant> next(State state, Instant now) {
    Duration outage = state.opened().patience().outage();
    Optional<Instant> frame =
        state.folderLostAt().isPresent()
            ? Optional.empty()
            : state.awaited().map(shot -> frame(state, shot));
    boolean mayShoot =
        !state.held() && state.identity().isPresent() && state.folderLostAt().isEmpty();
    Optional<Instant> refusal =
        state.shots().stream()
            .reduce((first, second) -> second)
            .filter(shot -> shot.standing() == Shot.Standing.REFUSED && mayShoot)
            .map(Deadlines::afterRefusal)
            // Once it is over, something else is waited for: a raw file, or a late frame.
            .filter(due -> due.isAfter(now));
    return Stream.of(
            frame,
            refusal,
            raw(state, now),
            late(state, now).filter(until -> mayShoot),
            state.triggerLostAt().map(since -> since.plus(outage)),
            state.folderLostAt().map(since -> since.plus(outage)))
        .flatMap(Optional::stream)
        .min(Instant::compareTo);
  }

  /** Until when a shot's frame is waited for. */
  static Instant frame(State state, Shot shot) {
    Patience patience = state.opened().patience();
    Instant exposed =
        shot.framedAt().or(shot::commandedAt).orElse(shot.plannedAt()).plus(exposing(state, shot));
    Instant base = exposed.plus(patience.answer());
    if (shot.answeredAt().isPresent()) {
      base = later(exposed, shot.answeredAt().get());
    }
    if (state.graceFrom().isPresent()) {
      base = later(base, state.graceFrom().get());
    }
    return base.plus(patience.frame());
  }

  static Instant afterRefusal(Shot shot) {
    return shot.settledAt().orElse(shot.plannedAt()).plus(AFTER_REFUSAL);
  }

  /** How long the camera may expose from now on, for the frames of a shot that are not here. */
  private static Duration exposing(State state, Shot shot) {
    return shot.wanted()
        .map(Deadlines::time)
        .orElseGet(
            () ->
                time(state.bracket().latitude().brightest())
                    .multipliedBy(state.opened().gear().framesPerRelease() - shot.frames()));
  }

  /**
   * Until when an end waits for raw files that would replace their JPEGs' numbers: of each frame as
   * long from its acceptance as a file may take after an exposure. A camera of which no raw file
   * came within that time for its first frames writes none.
   */
  static Optional<Instant> raw(State state, Instant now) {
    if (!state.opened().gear().jpegFirst()) {
      return Optional.empty();
    }
    List<Instant> until =
        state.frames().stream()
            .filter(frame -> frame.frame().measure().source() != FrameSource.RAW)
            .map(frame -> raw(state, frame))
            .sorted()
            .toList();
    boolean writesNone =
        until.size() == state.frames().size()
            && until.stream().findFirst().filter(first -> !first.isAfter(now)).isPresent();
    return writesNone ? Optional.empty() : until.stream().filter(it -> it.isAfter(now)).findFirst();
  }

  private static Instant raw(State state, Event.FrameAccepted frame) {
    Instant accepted = state.shot(frame.shot()).framedAt().orElseThrow();
    return later(accepted, state.graceFrom().orElse(accepted))
        .plus(state.opened().patience().frame());
  }

  /** Until when the next release waits, so that a late frame is not taken for its own. */
  static Optional<Instant> late(State state, Instant now) {
    if (state.opened().gear().own().isEmpty()) {
      return Optional.empty();
    }
    return OwnMatching.lateUntil(state, Accounts.nextAttempt(state), now);
  }

  private static Duration time(Exposure exposure) {
    return Duration.ofNanos((long) (exposure.shutter().seconds() * 1e9));
  }

  private static Instant later(Instant one, Instant other) {
    return one.isAfter(other) ? one : other;
  }
}
