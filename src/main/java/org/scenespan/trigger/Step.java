package org.scenespan.trigger;

import java.time.Duration;
import java.util.Optional;

/** One step of an order. */
sealed interface Step {
  /** What is awaited after a message was sent. */
  enum Awaits {
    NOTHING,
    REPLY,
    ERRORS
  }

  /** What a step does to the camera. */
  enum Press {
    NOTHING,
    /** Presses the release, but only the mirror moves. */
    MIRROR,
    /** The device exposes by itself. */
    RELEASE,
    /** The exposure begins, and goes on until it is closed. */
    OPEN,
    /** The exposure ends. Does no harm when done again. */
    CLOSE
  }

  Press press();

  /**
   * One message to send.
   *
   * @param line without checksum and terminator
   * @param about the command that the message belongs to, to name it when it is refused
   * @param reply the answer, if one is awaited
   * @param mayTellErrors whether the device queues errors about this command
   * @param restart the step to go back to when no good answer comes
   */
  record Say(
      String line,
      String about,
      Awaits awaits,
      Optional<ReplyPattern> reply,
      boolean mayTellErrors,
      Duration timeout,
      int retries,
      int restart,
      Press press)
      implements Step {}

  /** Closes or opens a contact on a modem line. */
  record Switch(ModemLine line, boolean closed, Press press) implements Step {}

  /** Nothing, for a while. */
  record Rest(Duration time) implements Step {
    @Override
    public Press press() {
      return Press.NOTHING;
    }
  }

  /** Nothing, until the exposure that was opened is over. */
  record Expose() implements Step {
    @Override
    public Press press() {
      return Press.NOTHING;
    }
  }
}
