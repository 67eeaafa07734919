package org.scenespan.wire;

import java.time.Instant;
import org.scenespan.session.Event;

/**
 * One record of a session's stream.
 *
 * @param seq 1 and up, without a gap
 * @param at when it was decided or learned
 * @param event what
 */
public record JournalRecord(long seq, Instant at, Event event) {
  public JournalRecord {
    if (!(seq >= 1)) {
      throw new IllegalArgumentException("seq (" + seq + ") must be 1 or more");
    }
  }
}
