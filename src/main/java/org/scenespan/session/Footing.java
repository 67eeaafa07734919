package org.scenespan.session;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.Steadiness;

/**
 * Whether the camera stands as it stood. A bump is one move between stillnesses; clouds that fill
 * the picture go on and on.
 */
final class Footing {
  /** Frames before the move of which most must have stood still. */
  private static final int BEFORE = 4;

  private static final int STILL_BEFORE = 3;

  /** Frames that stand still after it before it is over. */
  private static final int STILL_AFTER = 10;

  private Footing() {}

  /** The frame at which it moved, if it did so just before the last frame that is here. */
  static Optional<Vigil.Seen> moved(Vigil vigil) {
    List<Vigil.Seen> last = vigil.last(BEFORE + 2);
    if (last.size() < BEFORE + 2) {
      return Optional.empty();
    }
    long still = last.subList(0, BEFORE).stream().filter(Footing::isStill).count();
    Vigil.Seen move = last.get(BEFORE);
    boolean moves = move.shift().filter(it -> !it.isNone()).isPresent();
    return moves && still >= STILL_BEFORE && isStill(last.get(BEFORE + 1))
        ? Optional.of(move)
        : Optional.empty();
  }

  private static boolean isStill(Vigil.Seen seen) {
    return seen.shift().filter(Steadiness.Shift::isNone).isPresent();
  }

  static String words(Vigil.Seen move) {
    Steadiness.Shift shift = move.shift().orElseThrow();
    return String.format(
        Locale.ROOT,
        "The picture has shifted by %.1f %% of its width and %.1f %% of its height at %s: somebody or"
            + " something has touched the camera.",
        100 * Math.abs(shift.right()),
        100 * Math.abs(shift.down()),
        move.file());
  }

  static boolean isOver(Vigil vigil) {
    List<Vigil.Seen> last = vigil.last(STILL_AFTER);
    return last.size() == STILL_AFTER && last.stream().allMatch(Footing::isStill);
  }
}
