package org.scenespan.dashboard;

import java.util.List;
import java.util.Optional;
import java.util.function.LongConsumer;

/**
 * The session's journal as the page reads it: records numbered 1, 2, … without a gap. Called from
 * many threads at once.
 */
public interface Records {
  /**
   * The records after a sequence number, one line of JSON each, in order and without a gap: the
   * first is number {@code seq + 1}. It may hold back the rest of a long answer; the caller asks
   * again until nothing comes. Empty if there is nothing newer.
   */
  List<String> since(long seq);

  /**
   * Asks to be told the newest sequence number after each append, once the records can be read. The
   * listener does not block and does not throw.
   */
  void listen(LongConsumer onNewSeq);

  /**
   * The session in short, for a page that opens in the middle of a long one: a JSON object with the
   * sequence number {@code seq} up to which it tells, the host's time {@code now}, and some {@code
   * records}. Empty where all records are to be read.
   */
  default Optional<String> soFar() {
    return Optional.empty();
  }

  /** What a running lapse is going to do, and where the sun is, as one JSON object. */
  default Optional<String> ahead() {
    return Optional.empty();
  }
}
