package org.scenespan.house.planted.trigger;

/** Planted: an edge asks for the time. */
public final class Ticking {
  public long now() {
    return System.nanoTime();
  }
}
