package org.scenespan.frame;

import java.util.Optional;
import org.scenespan.light.Share;
import org.scenespan.light.Stops;

/**
 * What differs between a frame and one before it, where both hold the picture.
 *
 * @param against the file of the one before
 * @param compared the share of the picture that both hold well enough to be compared
 * @param moved the share of the picture that differs by more than its noise allows
 * @param ratio how much brighter this frame is in the middle of what was compared; its exposure's
 *     part is in it. Of a JPEG without a measured response it is no measure of light.
 * @param movedLevels where the moved parts lie in this frame; absent where nothing moved
 */
public record FrameChange(
    String against, Share compared, Share moved, Stops ratio, Optional<Levels> movedLevels) {
  public FrameChange {
    if (!(moved.value() <= compared.value())) {
      throw new IllegalArgumentException(
          "moved share ("
              + moved.value()
              + ") must be at most what was compared, "
              + compared.value());
    }
  }

  /**
   * A range of levels in stops relative to saturation.
   *
   * @param low its darker end
   * @param high its brighter end
   */
  public record Levels(Stops low, Stops high) {
    public Levels {
      if (!(low.compareTo(high) <= 0)) {
        throw new IllegalArgumentException(
            "levels " + low.value() + " to " + high.value() + " must not fall");
      }
    }
  }
}
