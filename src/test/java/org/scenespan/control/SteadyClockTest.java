package org.scenespan.control;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;

class SteadyClockTest {
  private static final Instant START = Instant.parse("2026-03-29T00:59:59Z");

  private Instant wall = START;
  private long nanos = 5_000_000_000L;

  @Test
  void aStepOfTheHostsClockMovesNothing() {
    SteadyClock clock = new SteadyClock(() -> wall, () -> nanos, Instant.MIN);
    nanos += Duration.ofSeconds(2).toNanos();
    wall = START.plus(Duration.ofHours(1));
    assertEquals(START.plusSeconds(2), clock.instant());
    nanos += Duration.ofMillis(1500).toNanos();
    wall = START.minus(Duration.ofDays(9000));
    assertEquals(START.plusMillis(3500), clock.instant());
  }

  /** By a clock that was put back an hour, a resumed session would wait that hour for a frame. */
  @Test
  void aResumedSessionsTimeGoesOnWhereTheHostsClockWasPutBack() {
    Instant last = START.plus(Duration.ofHours(1));
    SteadyClock clock = new SteadyClock(() -> wall, () -> nanos, last);
    assertEquals(last, clock.instant());
    nanos += 7;
    assertEquals(last.plusNanos(7), clock.instant());
  }

  @Test
  void itStartsAtTheHostsTimeWhereThatIsLater() {
    SteadyClock clock = new SteadyClock(() -> wall, () -> nanos, START.minusSeconds(60));
    assertEquals(START, clock.instant());
  }
}
