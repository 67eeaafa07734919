package org.scenespan.session;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.stream.Stream;
import org.scenespan.light.Exposure;

/** Until when a session waits for what. */
final class Deadlines {
  /** A trigger that refuses is asked again after this long. */
  private static final Duration AFTER_REFUSAL = Duration.ofSeconds(1);

  private Deadlines() {}

  /** When the next wait of any kind is over, if there is one. */
  static Optional<Instant> next(State state) {
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
            .map(Deadlines::afterRefusal);
    return Stream.of(
            frame,
            refusal,
            state.triggerLostAt().map(since -> since.plus(outage)),
            state.folderLostAt().map(since -> since.plus(outage)))
        .flatMap(Optional::stream)
        .min(Instant::compareTo);
  }

  /** Until when a shot's frame is waited for. */
  static Instant frame(State state, Shot shot) {
    Patience patience = state.opened().patience();
    Instant exposed = shot.commandedAt().orElse(shot.plannedAt()).plus(time(shot.exposure()));
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

  private static Duration time(Exposure exposure) {
    return Duration.ofNanos((long) (exposure.shutter().seconds() * 1e9));
  }

  private static Instant later(Instant one, Instant other) {
    return one.isAfter(other) ? one : other;
  }
}
