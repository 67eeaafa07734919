package org.scenespan.session;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.scenespan.frame.FrameMetadata;
import org.scenespan.light.Exposure;

/** Whether frames are taken as they were commanded. */
final class Obedience {
  /**
   * What a file says may be off so much: a bulb's time is rounded in it, and a shutter that is held
   * open by hand of a device is late to close. Stops.
   */
  private static final double ROOM = 0.5;

  /** Frames in a row that say so, before it is believed. */
  private static final int SAID = 3;

  /** Frames in a row that are far off, all to one side: a cloud is over sooner, or followed. */
  private static final int SEEN = 8;

  private static final double FAR_STOPS = 1.5;
  private static final double NEAR_STOPS = 1;

  private Obedience() {}

  /** What the file says that differs from what was commanded, each part by itself. */
  static Optional<String> other(Exposure commanded, FrameMetadata metadata) {
    if (metadata.shutter().filter(it -> off(it.tv(), commanded.shutter().tv())).isPresent()) {
      return metadata.shutter().map(Object::toString);
    }
    if (metadata.iso().filter(it -> off(it.sv(), commanded.iso().sv())).isPresent()) {
      return metadata.iso().map(Object::toString);
    }
    return metadata
        .aperture()
        .filter(it -> off(it.av(), commanded.aperture().av()))
        .map(Object::toString);
  }

  private static boolean off(double said, double commanded) {
    return Math.abs(said - commanded) > ROOM;
  }

  static Optional<String> trouble(Vigil vigil) {
    List<Vigil.Seen> said = vigil.last(SAID);
    if (said.size() == SAID && said.stream().allMatch(it -> it.other().isPresent())) {
      return Optional.of(
          "The exposure is not obeyed: the last "
              + SAID
              + " frames were taken with other settings than commanded, the newest with "
              + said.get(SAID - 1).other().get()
              + ".");
    }
    List<Vigil.Seen> seen = vigil.last(SEEN);
    if (seen.size() == SEEN && (all(seen, 1) || all(seen, -1))) {
      double off = seen.get(SEEN - 1).error().get().value();
      return Optional.of(
          String.format(
              Locale.ROOT,
              "The exposure seems not to be obeyed: the last %d pictures are far too %s, the newest"
                  + " by %.1f stops; or something stands before the lens.",
              SEEN,
              off > 0 ? "bright" : "dark",
              Math.abs(off)));
    }
    return Optional.empty();
  }

  private static boolean all(List<Vigil.Seen> seen, int sign) {
    return seen.stream()
        .allMatch(it -> it.error().filter(error -> sign * error.value() > FAR_STOPS).isPresent());
  }

  static boolean isOver(Vigil vigil) {
    List<Vigil.Seen> last = vigil.last(SAID);
    return last.size() == SAID
        && last.stream().allMatch(it -> it.other().isEmpty())
        && last.stream()
            .allMatch(it -> it.error().filter(error -> error.abs().value() > NEAR_STOPS).isEmpty());
  }
}
