package org.scenespan.rehearsal;

import java.util.ArrayList;
import java.util.List;
import org.scenespan.light.Stops;

/**
 * A camera on aperture priority with a meter of its own, which may bracket by itself.
 *
 * @param sequence exposure compensations that are gone through again and again, 1 to 99 of them
 * @param burst whether one release takes the whole sequence, or else one frame of it
 */
public record OwnExposure(List<Stops> sequence, boolean burst) {
  private static final int MOST_FRAMES = 99;

  public OwnExposure {
    sequence = List.copyOf(sequence);
    if (!(sequence.size() >= 1 && sequence.size() <= MOST_FRAMES)) {
      throw new IllegalArgumentException(
          "an own bracket's frames (" + sequence.size() + ") must be 1 to 99");
    }
  }

  /**
   * As the metered exposure, then darker and brighter by the same, then farther: 0, -2, +2, -4, …
   *
   * @param step from one to the next darker or brighter
   */
  public static OwnExposure around(int frames, Stops step, boolean burst) {
    List<Stops> sequence = new ArrayList<>();
    for (int i = 0; i < frames; i++) {
      int steps = (i + 1) / 2;
      sequence.add(new Stops(step.value() * (i % 2 == 1 ? -steps : steps)));
    }
    return new OwnExposure(sequence, burst);
  }

  int framesPerRelease() {
    return burst ? sequence.size() : 1;
  }
}
