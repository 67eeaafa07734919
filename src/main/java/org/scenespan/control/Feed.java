package org.scenespan.control;

import java.util.List;
import org.scenespan.wire.JournalRecord;

/** Whoever is told of records after they are on disk: the terminal, the dashboard. */
public interface Feed {
  void publish(List<JournalRecord> records);

  /** One feed made of several. */
  static Feed all(List<Feed> feeds) {
    List<Feed> copy = List.copyOf(feeds);
    return records -> copy.forEach(feed -> feed.publish(records));
  }
}
