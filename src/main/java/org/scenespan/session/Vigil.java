package org.scenespan.session;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.scenespan.frame.Detail;
import org.scenespan.frame.Steadiness;
import org.scenespan.light.Stops;

/**
 * What a lapse's last frames and the trigger's own words told of how things stand: enough to judge
 * whether something has gone wrong, and of the same size however long the lapse. A fold over the
 * events; immutable.
 *
 * @param seen the last frames, the oldest first
 * @param details of groups of frames before, the medians of each group, the oldest first
 * @param group of those not yet grouped
 * @param sharp the detail from before the picture went soft, while it is soft
 * @param charges the trigger's battery as it told it, the oldest first
 */
record Vigil(
    List<Seen> seen,
    List<Detail> details,
    List<Detail> group,
    Optional<Detail> sharp,
    List<Charge> charges) {
  static final Vigil NONE = new Vigil(List.of(), List.of(), List.of(), Optional.empty(), List.of());

  /** Frames that are kept. */
  private static final int MOST_SEEN = 24;

  /** Frames to a group: single ones scatter. */
  static final int GROUP = 6;

  /** Groups that are kept: an hour at intervals of ten seconds. */
  private static final int MOST_GROUPS = 60;

  private static final int MOST_CHARGES = 96;

  /** One reading of a battery in this time is enough. */
  private static final long CHARGE_EVERY_SECONDS = 60;

  Vigil {
    seen = List.copyOf(seen);
    details = List.copyOf(details);
    group = List.copyOf(group);
    charges = List.copyOf(charges);
  }

  /**
   * A frame that came.
   *
   * @param due when it was to be taken
   * @param other what its file says it was taken with instead of what was commanded
   * @param error how much brighter it is than the exposure was to make it
   */
  record Seen(
      String file,
      Instant due,
      Optional<String> other,
      Optional<Stops> error,
      Optional<Steadiness.Shift> shift) {}

  /**
   * A battery at a time.
   *
   * @param value in whatever unit the device has
   * @param percent whether that is a hundredth of its charge
   */
  record Charge(Instant at, double value, boolean percent) {}

  Vigil with(Event.FrameMatched matched, LapseShot shot) {
    Optional<Stops> error =
        matched
            .brightness()
            .map(it -> it.minus(shot.wish()).minus(shot.expectedError()))
            .map(it -> new Stops(Math.rint(it.value() * 1e6) / 1e6));
    Seen next =
        new Seen(
            matched.frame().file(),
            shot.due(),
            Obedience.other(shot.exposure(), matched.frame().metadata()),
            error,
            matched.steadiness().shift());
    Vigil with = new Vigil(latest(seen, next, MOST_SEEN), details, group, sharp, charges);
    return matched.steadiness().detail().map(with::withDetail).orElse(with);
  }

  private Vigil withDetail(Detail detail) {
    List<Detail> more = new ArrayList<>(group);
    more.add(detail);
    return more.size() < GROUP
        ? new Vigil(seen, details, more, sharp, charges)
        : new Vigil(
            seen, latest(details, Softness.median(more), MOST_GROUPS), List.of(), sharp, charges);
  }

  /** The picture went soft, or is sharp again: then what was before it counts no more. */
  Vigil withSoft(boolean soft) {
    return soft
        ? new Vigil(seen, details, group, Softness.reference(details), charges)
        : new Vigil(seen, List.of(), List.of(), Optional.empty(), charges);
  }

  Vigil with(Charge charge) {
    boolean early =
        !charges.isEmpty()
            && charge
                .at()
                .isBefore(charges.get(charges.size() - 1).at().plusSeconds(CHARGE_EVERY_SECONDS));
    return early
        ? this
        : new Vigil(seen, details, group, sharp, latest(charges, charge, MOST_CHARGES));
  }

  private static <T> List<T> latest(List<T> list, T next, int most) {
    List<T> more = new ArrayList<>(list.size() < most ? list : list.subList(1, list.size()));
    more.add(next);
    return more;
  }

  /** The last so many frames; fewer where there are no more. */
  List<Seen> last(int count) {
    return seen.subList(Math.max(0, seen.size() - count), seen.size());
  }
}
