package org.scenespan.plan.settings;

import org.scenespan.light.Shutter;

/** How running water is to look, and from which time on it does [practice]. */
public enum Water {
  SILKY("0.3s"),
  SMOOTH("1s"),
  MIST("15s");

  private final Shutter least;

  Water(String least) {
    this.least = Shutter.parse(least);
  }

  public Wish.Blur wish() {
    return new Wish.Blur(least, "the water");
  }
}
