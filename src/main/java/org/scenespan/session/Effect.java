package org.scenespan.session;

import java.time.Instant;
import java.util.Optional;
import org.scenespan.frame.Patch;
import org.scenespan.light.Exposure;

/** Something to do outside, after its reason is on disk. */
public sealed interface Effect {
  /** Open the trigger's port and greet it. */
  record Greet() implements Effect {}

  /** Ask the trigger for the meter's reading. */
  record ReadMeter() implements Effect {}

  /**
   * Set the exposure and release.
   *
   * @param exposure what to set, or where the camera keeps its own, the brightest that it may take
   */
  record Release(int shot, Exposure exposure) implements Effect {}

  /**
   * Set the exposure and release, but not before an instant; it replaces an earlier one of its kind
   * that has not yet been begun.
   *
   * @param at when the command's first byte leaves
   */
  record ReleaseAt(int shot, Exposure exposure, Instant at) implements Effect {}

  /** Release with whatever is set on the camera. */
  record Press(int shot) implements Effect {}

  /** Send {@link Input.ClockTicked} at this instant; replaces an earlier wish. */
  record WakeAt(Instant instant) implements Effect {}

  /**
   * Hold every frame from now on against this one.
   *
   * @param file in the hot folder
   * @param patch the grey card or target in it
   */
  record HoldAgainst(String file, Optional<Patch> patch) implements Effect {}

  /** The session is over: close the port and the folder. */
  record Shut() implements Effect {}
}
