package org.scenespan.trigger;

import java.util.Map;

/**
 * How an order ended. Of a {@link Order.Fire}, {@link Refused} means that surely nothing was
 * released, {@link Garbled} and {@link Lost} that it is not known.
 */
public sealed interface Outcome {
  /** Done; the named groups of the replies. */
  record Acknowledged(Map<String, String> groups) implements Outcome {
    public Acknowledged {
      groups = Map.copyOf(groups);
    }
  }

  /** The device said no, or a shot failed before its release was sent. */
  record Refused(String reason) implements Outcome {}

  /** Something came back that is no answer to the question. */
  record Garbled(String reason) implements Outcome {}

  /** Nothing came back. */
  record Lost(String reason) implements Outcome {}
}
