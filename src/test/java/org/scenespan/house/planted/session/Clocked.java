package org.scenespan.house.planted.session;

import java.time.Instant;

/** Planted: a pure room asks for the time. */
public final class Clocked {
  public Instant when() {
    return Instant.now();
  }
}
