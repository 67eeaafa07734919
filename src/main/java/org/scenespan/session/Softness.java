package org.scenespan.session;

import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import org.scenespan.frame.Detail;

/**
 * Whether focus has drifted or dew has settled: fine detail goes, and more of it than of the coarse
 * one, which other light, haze and a dull sky take alike.
 */
final class Softness {
  /** Groups of frames before the last few that must be there to judge by. */
  private static final int LEAST_GROUPS = 4;

  /** The newest groups, which are judged. */
  private static final int JUDGED = 2;

  /** A quarter of the fine detail's power: half its contrast. */
  private static final double FINE_LOST = 2;

  private static final double SHARPNESS_LOST = 1;

  /** So much of it back, and it is over. */
  private static final double BACK = 0.5;

  private Softness() {}

  static Detail median(List<Detail> details) {
    return new Detail(median(details, Detail::fine), median(details, Detail::coarse));
  }

  private static double median(List<Detail> details, ToDoubleFunction<Detail> part) {
    double[] sorted = details.stream().mapToDouble(part).sorted().toArray();
    double middle = (sorted[sorted.length / 2] + sorted[(sorted.length - 1) / 2]) / 2;
    return Math.rint(middle * 1e6) / 1e6;
  }

  /** What the picture had before the newest groups; nothing while there are too few. */
  static Optional<Detail> reference(List<Detail> details) {
    int before = details.size() - JUDGED;
    return before < LEAST_GROUPS
        ? Optional.empty()
        : Optional.of(median(details.subList(0, before)));
  }

  static boolean isTrouble(Vigil vigil) {
    return reference(vigil.details())
        .filter(sharp -> newest(vigil).stream().allMatch(it -> isSofter(it, sharp, 1)))
        .isPresent();
  }

  static boolean isOver(Vigil vigil) {
    return vigil
        .sharp()
        .filter(sharp -> newest(vigil).stream().noneMatch(it -> isSofter(it, sharp, BACK)))
        .isPresent();
  }

  private static List<Detail> newest(Vigil vigil) {
    List<Detail> all = vigil.details();
    return all.subList(Math.max(0, all.size() - JUDGED), all.size());
  }

  private static boolean isSofter(Detail now, Detail sharp, double part) {
    return now.fine() < sharp.fine() - part * FINE_LOST
        && now.sharpness() < sharp.sharpness() - part * SHARPNESS_LOST;
  }
}
