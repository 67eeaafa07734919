package org.scenespan.frame;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.Optional;

/**
 * When a camera says that it took a frame, by its own clock.
 *
 * @param local date and time as the camera's clock shows them
 * @param offset the camera's offset from UTC where the file has one
 * @param subSeconds whether the file states parts of a second
 */
public record CaptureTime(LocalDateTime local, Optional<ZoneOffset> offset, boolean subSeconds) {
  /** The camera's clock taken at its word; without an offset, as if it showed UTC. */
  public Instant asInstant() {
    return local.toInstant(offset.orElse(ZoneOffset.UTC));
  }

  /** How finely the file states the time. */
  public Duration granularity() {
    return subSeconds ? Duration.ofMillis(10) : Duration.ofSeconds(1);
  }
}
