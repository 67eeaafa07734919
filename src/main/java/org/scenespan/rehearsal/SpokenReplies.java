package org.scenespan.rehearsal;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Optional;
import java.util.SplittableRandom;

/** The trigger's replies on their way, in their order, with what goes wrong with them. */
final class SpokenReplies {
  private record Reply(Instant due, byte[] bytes) {}

  private final Duration time;
  private final Faults faults;
  private final SplittableRandom nonsense;
  private final ArrayDeque<Reply> underway = new ArrayDeque<>();
  private final ByteArrayOutputStream said = new ByteArrayOutputStream();
  private Instant lastDue = Instant.MIN;

  /**
   * @param time from a query to its reply
   * @param seed of what garbled replies say
   */
  SpokenReplies(Duration time, long seed, Faults faults) {
    this.time = time;
    this.faults = faults;
    this.nonsense = new SplittableRandom(seed);
  }

  /** Sends a reply on its way; it never overtakes the one before: one line carries them all. */
  void say(String reply, Instant now) {
    Faults.ReplyFate fate = faults.onReply(reply, now);
    Duration late = fate instanceof Faults.ReplyFate.Delay delay ? time.plus(delay.by()) : time;
    byte[] bytes = suffered(fate, (reply + "\n").getBytes(StandardCharsets.US_ASCII));
    if (bytes.length > 0) {
      Instant due = now.plus(late);
      lastDue = due.isBefore(lastDue) ? lastDue : due;
      underway.add(new Reply(lastDue, bytes));
    }
  }

  private byte[] suffered(Faults.ReplyFate fate, byte[] line) {
    if (fate instanceof Faults.ReplyFate.Lose) {
      return new byte[0];
    }
    if (fate instanceof Faults.ReplyFate.Repeat) {
      byte[] twice = Arrays.copyOf(line, 2 * line.length);
      System.arraycopy(line, 0, twice, line.length, line.length);
      return twice;
    }
    if (fate instanceof Faults.ReplyFate.Cut) {
      return Arrays.copyOf(line, line.length / 2);
    }
    return fate instanceof Faults.ReplyFate.Garble ? garbled(line.length) : line;
  }

  /** Bytes of any kind, with one end of line, at the end. */
  private byte[] garbled(int length) {
    byte[] bytes = new byte[length];
    nonsense.nextBytes(bytes);
    for (int i = 0; i < length; i++) {
      bytes[i] = bytes[i] == '\n' ? 0 : bytes[i];
    }
    bytes[length - 1] = '\n';
    return bytes;
  }

  Optional<Instant> nextDue() {
    return Optional.ofNullable(underway.peek()).map(Reply::due);
  }

  /** Says the first reply that is underway. */
  void sayNext() {
    said.writeBytes(underway.remove().bytes);
  }

  /** What has been said since the last call. */
  byte[] take() {
    byte[] bytes = said.toByteArray();
    said.reset();
    return bytes;
  }
}
