package org.scenespan.control;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.LongConsumer;
import java.util.function.Supplier;
import org.scenespan.dashboard.LapseAhead;
import org.scenespan.dashboard.LapseSoFar;
import org.scenespan.dashboard.Records;
import org.scenespan.session.LapseSetup;
import org.scenespan.session.State;
import org.scenespan.wire.JournalRecord;

/** A session's journal as its page reads it, and of a lapse what is in short of it. */
final class PageRecords implements Records {
  /** Records to an answer of the page's feed. */
  private static final int MOST_LINES = 64;

  private final Workbench bench;
  private final Supplier<State> known;
  private final InstantSource clock = SteadyClock.ofSystem();
  private final CopyOnWriteArrayList<LongConsumer> listeners = new CopyOnWriteArrayList<>();
  private final Optional<LapseSoFar> lapse;
  private final LapseAhead ahead = new LapseAhead();

  /**
   * @param soFar the records that the journal has already; they are not kept
   * @param known what the session knows now
   */
  PageRecords(Workbench bench, List<JournalRecord> soFar, Supplier<State> known) {
    this.bench = bench;
    this.known = known;
    this.lapse =
        bench.setup() instanceof LapseSetup ? Optional.of(new LapseSoFar()) : Optional.empty();
    lapse.ifPresent(it -> soFar.forEach(it::take));
  }

  /** Takes in what is on disk now, and tells whoever listens. */
  void published(List<JournalRecord> records) {
    lapse.ifPresent(it -> records.forEach(it::take));
    long newest = records.get(records.size() - 1).seq();
    listeners.forEach(listener -> listener.accept(newest));
  }

  @Override
  public List<String> since(long seq) {
    try {
      return bench.journal().since(seq, MOST_LINES);
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }

  @Override
  public void listen(LongConsumer onNewSeq) {
    listeners.add(onNewSeq);
  }

  @Override
  public Optional<String> soFar() {
    return lapse.flatMap(it -> it.json(clock.instant()));
  }

  @Override
  public Optional<String> ahead() {
    return ahead.json(known.get(), clock.instant());
  }
}
