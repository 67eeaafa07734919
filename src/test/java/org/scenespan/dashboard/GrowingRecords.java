package org.scenespan.dashboard;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.LongConsumer;

/** A journal in memory. */
final class GrowingRecords implements Records {
  private final List<String> lines = new ArrayList<>();
  private final List<LongConsumer> listeners = new CopyOnWriteArrayList<>();

  void append(String line) {
    long newest;
    synchronized (lines) {
      lines.add(line);
      newest = lines.size();
    }
    listeners.forEach(listener -> listener.accept(newest));
  }

  /** Appends a record whose number and time are given here. */
  void append(String type, String fields) {
    long seq;
    synchronized (lines) {
      seq = lines.size() + 1L;
    }
    append(
        "{\"seq\":"
            + seq
            + ",\"at\":\"2026-11-25T08:56:00Z\",\"type\":\""
            + type
            + "\""
            + (fields.isEmpty() ? "" : "," + fields)
            + "}");
  }

  @Override
  public List<String> since(long seq) {
    synchronized (lines) {
      return seq >= lines.size() ? List.of() : List.copyOf(lines.subList((int) seq, lines.size()));
    }
  }

  @Override
  public void listen(LongConsumer onNewSeq) {
    listeners.add(onNewSeq);
  }
}
