package org.scenespan.session;

import java.util.Optional;

/** Whether a frame belongs to a shot, and how that is known. */
public sealed interface Match {
  /**
   * The frame is this shot's.
   *
   * @param shot the shot
   * @param proof how that is known
   * @param clock what the frame teaches of the camera's clock, where it could be of no other shot
   */
  record Found(Shot shot, Proof proof, Optional<CameraClock> clock) implements Match {}

  /** The frame is nobody's. */
  record Stray(String reason) implements Match {}

  /** How a match is known. */
  enum Proof {
    /** The capture time lies in the shot's and the settings are the shot's. */
    CAPTURE_TIME("capture-time"),
    /** The settings are those of one shot only. */
    EXPOSURE("exposure"),
    /**
     * The file says nothing of how it was taken, and one shot only was waiting; or a hand turned
     * the dials to something else than was asked.
     */
    ARRIVAL("arrival");

    private final String label;

    Proof(String label) {
      this.label = label;
    }

    /** The word for it in the journal. */
    public String label() {
      return label;
    }
  }
}
