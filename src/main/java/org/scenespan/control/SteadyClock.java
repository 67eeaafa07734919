package org.scenespan.control;

import java.time.Instant;
import java.time.InstantSource;
import java.util.function.LongSupplier;

/**
 * Wall time that is read once and carried on by the monotonic clock, so that a step of the host's
 * clock cannot move a deadline.
 */
final class SteadyClock implements InstantSource {
  private final Instant start;
  private final long startNanos;
  private final LongSupplier nanos;

  /**
   * @param notBefore what was written last, so that a session's records go forward even where the
   *     host's clock was put back between two runs
   */
  SteadyClock(InstantSource wall, LongSupplier nanos, Instant notBefore) {
    Instant shown = wall.instant();
    this.start = shown.isBefore(notBefore) ? notBefore : shown;
    this.startNanos = nanos.getAsLong();
    this.nanos = nanos;
  }

  static SteadyClock ofSystem() {
    return ofSystem(Instant.MIN);
  }

  static SteadyClock ofSystem(Instant notBefore) {
    return new SteadyClock(InstantSource.system(), System::nanoTime, notBefore);
  }

  @Override
  public Instant instant() {
    return start.plusNanos(nanos.getAsLong() - startNanos);
  }
}
