package org.scenespan.wire;

/** A line that is no record of a session. */
public final class MalformedRecord extends Exception {
  private static final long serialVersionUID = 1;

  public MalformedRecord(String reason) {
    super(reason);
  }
}
