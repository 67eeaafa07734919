package org.scenespan.control;

import java.io.IOException;
import java.time.Instant;
import java.util.List;
import org.scenespan.journal.Journal;
import org.scenespan.session.Input;
import org.scenespan.session.Session;
import org.scenespan.session.Setup;
import org.scenespan.session.State;
import org.scenespan.session.Step;
import org.scenespan.wire.JournalRecord;

/**
 * The whole shell: decide, journal, perform, publish, in this order and only here. A thread runs it
 * or a test steps it; it has no clock of its own.
 */
final class Loop {
  private final Journal journal;
  private final Rig rig;
  private final Feed feed;

  /** Written by the thread that runs the loop, read by the page's too. */
  private volatile State state;

  private boolean held;

  Loop(State state, Journal journal, Rig rig, Feed feed) {
    this.state = state;
    this.journal = journal;
    this.rig = rig;
    this.feed = feed;
  }

  State state() {
    return state;
  }

  /** Opens a new session. */
  void open(Setup setup, Instant now) throws IOException {
    carryOut(Session.open(setup, now), now);
  }

  /**
   * @throws IOException if the journal cannot be written: nothing is then done about the input
   */
  void take(Input input, Instant now) throws IOException {
    carryOut(Session.step(state, input, now), now);
  }

  private void carryOut(Step step, Instant now) throws IOException {
    List<JournalRecord> records = journal.append(step.events(), now);
    // From the records, not from the events: a resumed session must know the same to the last
    // digit.
    for (JournalRecord record : records) {
      state = record.event().applyTo(state, record.at());
    }
    step.effects().forEach(rig::perform);
    if (!records.isEmpty()) {
      feed.publish(records);
    }
    boolean holds = journal.trouble().isPresent();
    if (holds != held && !state.isClosed()) {
      held = holds;
      take(
          holds ? new Input.RecordsHeld(journal.trouble().get()) : new Input.RecordsWritten(), now);
    }
  }
}
