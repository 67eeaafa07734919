package org.scenespan.session;

import java.util.List;
import java.util.Optional;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.frame.FrameReading;
import org.scenespan.frame.FrameSource;

/**
 * Raw file and JPEG of one shutter press are one frame: which accepted frame another file belongs
 * to. Names tell it, and since a camera on a new card begins its numbers again, what the files say
 * of themselves must not contradict.
 */
final class SamePress {
  private SamePress() {}

  /** The newest accepted frame that is of the same press as a file of another name. */
  static Optional<Event.FrameAccepted> of(FrameReading reading, List<Event.FrameAccepted> frames) {
    for (int i = frames.size() - 1; i >= 0; i--) {
      FrameReading known = frames.get(i).frame();
      boolean named = reading.replaces().equals(Optional.of(known.file()));
      if ((named || isSibling(known.file(), reading.file()))
          && isAlike(known.metadata(), reading.metadata(), named)) {
        return Optional.of(frames.get(i));
      }
    }
    return Optional.empty();
  }

  /** Whether raw data can take the place of what was measured so far. */
  static boolean refines(FrameReading reading, FrameReading known) {
    return reading.measure().source() == FrameSource.RAW
        && known.measure().source() != FrameSource.RAW;
  }

  private static boolean isSibling(String one, String other) {
    return !one.equals(other) && stem(one).equals(stem(other));
  }

  private static String stem(String file) {
    int dot = file.lastIndexOf('.');
    return dot < 0 ? file : file.substring(0, dot);
  }

  /**
   * @param named whether the folder saw both files come, so that silence is no contradiction
   */
  static boolean isAlike(FrameMetadata one, FrameMetadata other, boolean named) {
    boolean known =
        one.exposure().isPresent()
            && other.exposure().isPresent()
            && one.capturedAt().isPresent()
            && other.capturedAt().isPresent();
    if (!known) {
      return named;
    }
    return one.exposure().get().isSameSetting(other.exposure().get())
        && one.capturedAt().get().local().equals(other.capturedAt().get().local());
  }
}
