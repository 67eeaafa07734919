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

  SteadyClock(InstantSource wall, LongSupplier nanos) {
    this.start = wall.instant();
    this.startNanos = nanos.getAsLong();
    this.nanos = nanos;
  }

  static SteadyClock ofSystem() {
    return new SteadyClock(InstantSource.system(), System::nanoTime);
  }

  @Override
  public Instant instant() {
    return start.plusNanos(nanos.getAsLong() - startNanos);
  }
}
