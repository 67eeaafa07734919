package org.scenespan.proof.report;

import java.time.Instant;

/** A sentence of what happened, and when. */
public record Told(Instant at, String words) {
  /** What such a sentence begins with where it is an alarm. */
  public static final String ALARM = "ALARM: ";

  boolean isAlarm() {
    return words.startsWith(ALARM);
  }
}
