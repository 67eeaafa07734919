package org.scenespan.session;

import java.time.Duration;

/**
 * How long things may take, and how often they are tried.
 *
 * @param answer the longest that a trigger takes to answer, beyond the exposure itself
 * @param frame the longest from the end of an exposure to its whole file in the folder
 * @param outage how long a lost trigger or folder is waited for
 * @param retakes how often in a row a lost shot is taken again, 0 to 20
 */
public record Patience(Duration answer, Duration frame, Duration outage, int retakes) {
  public static final Patience USUAL =
      new Patience(Duration.ofSeconds(15), Duration.ofSeconds(10), Duration.ofSeconds(90), 3);

  public Patience {
    requirePositive("answer", answer);
    requirePositive("frame", frame);
    requirePositive("outage", outage);
    if (!(retakes >= 0 && retakes <= 20)) {
      throw new IllegalArgumentException("retakes (" + retakes + ") must be 0 to 20");
    }
  }

  /** As patient with frames as this, or more where a camera is known to be slow. */
  public Patience atLeastForFrames(Duration time) {
    return time.compareTo(frame) > 0 ? new Patience(answer, time, outage, retakes) : this;
  }

  private static void requirePositive(String name, Duration time) {
    if (time.isNegative() || time.isZero() || time.compareTo(Duration.ofHours(1)) > 0) {
      throw new IllegalArgumentException(
          name + " time-out (" + time + ") must be above 0 and at most an hour");
    }
  }
}
