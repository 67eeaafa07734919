package org.scenespan.plan;

import java.util.Optional;
import org.scenespan.light.Ev;

/**
 * What is known of a scene before its first frame.
 *
 * @param metered the trigger's meter
 * @param sunInFrame whether the photographer says that the sun is in the frame
 * @param earlier the span that is expected
 */
public record Known(Optional<Ev> metered, boolean sunInFrame, Optional<EarlierSpan> earlier) {
  public static final Known NOTHING = new Known(Optional.empty(), false, Optional.empty());

  public Known withMeter(Optional<Ev> reading) {
    return new Known(reading, sunInFrame, earlier);
  }

  /**
   * A span that is expected: of the last bracket at this place, of a reference frame, or the
   * photographer's word.
   *
   * @param low the dark end
   * @param high the bright end
   * @param source where it is from, in words
   */
  public record EarlierSpan(Ev low, Ev high, String source) {
    public EarlierSpan {
      if (!(low.compareTo(high) <= 0)) {
        throw new IllegalArgumentException(
            "the expected span's dark end ("
                + low
                + ") must not lie above its bright end, "
                + high);
      }
    }
  }
}
