package org.scenespan.trigger;

import org.scenespan.light.Exposure;

/** Something the trigger is to do. */
public sealed interface Order {
  /** Say who you are. */
  record Greet() implements Order {}

  /** Say that you are still there. */
  record Beat() implements Order {}

  /** Meter the scene. */
  record ReadMeter() implements Order {}

  /**
   * Release with whatever is set on the camera.
   *
   * @param shot the session's number for it, 1 or more; the device may be asked to give it back
   */
  record Press(int shot) implements Order {
    public Press {
      if (!(shot >= 1)) {
        throw new IllegalArgumentException("shot (" + shot + ") must be 1 or more");
      }
    }
  }

  /**
   * Set the exposure and release.
   *
   * @param shot the session's number for it, 1 or more; the device may be asked to give it back
   */
  record Fire(int shot, Exposure exposure) implements Order {
    public Fire {
      if (!(shot >= 1)) {
        throw new IllegalArgumentException("shot (" + shot + ") must be 1 or more");
      }
    }
  }
}
