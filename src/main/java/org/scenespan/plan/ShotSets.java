package org.scenespan.plan;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Finds the sets of brackets among frames that come one by one, in the order of their names: same
 * camera and size, close in time, exposures that differ, pictures that differ as the exposures do.
 * It holds no more frames than the sets that may still grow.
 */
public final class ShotSets {
  /** A folder into which more cameras write in turn ends the oldest camera's set. */
  private static final int MOST_CAMERAS = 16;

  /** As many as a bracket may have. */
  private static final int MOST_FRAMES = 99;

  private final Duration pause;
  private final Map<String, List<ShotFrame>> open = new LinkedHashMap<>();

  /**
   * @param pause the longest between the frames of a set, besides the exposures themselves
   */
  public ShotSets(Duration pause) {
    if (!(pause.compareTo(Duration.ZERO) >= 0 && pause.compareTo(Duration.ofHours(1)) <= 0)) {
      throw new IllegalArgumentException(
          "pause within a set (" + pause.toSeconds() + " s) must be 0 s to 1 h");
    }
    this.pause = pause;
  }

  /** Takes the next frame; answers the sets that are whole by it. */
  public List<List<ShotFrame>> add(ShotFrame frame) {
    List<List<ShotFrame>> whole = new ArrayList<>();
    String camera = frame.camera().orElse("");
    List<ShotFrame> set = open.get(camera);
    if (set != null && joins(frame, set)) {
      set.add(frame);
      return whole;
    }
    if (set != null) {
      close(set, whole);
    } else if (open.size() == MOST_CAMERAS) {
      Iterator<List<ShotFrame>> sets = open.values().iterator();
      close(sets.next(), whole);
      sets.remove();
    }
    open.put(camera, new ArrayList<>(List.of(frame)));
    return whole;
  }

  /** No frame comes any more; answers the sets that were still open. */
  public List<List<ShotFrame>> end() {
    List<List<ShotFrame>> whole = new ArrayList<>();
    open.values().forEach(set -> close(set, whole));
    open.clear();
    return whole;
  }

  /** A setting comes again only as a copy of the frame before, else the next set has begun. */
  private boolean joins(ShotFrame frame, List<ShotFrame> set) {
    ShotFrame last = set.get(set.size() - 1);
    return set.size() < MOST_FRAMES
        && frame.isAsBigAs(last)
        && frame.isWithin(pause, last)
        && frame.brightensAs(last)
        && (frame.isExposedAs(last) || set.stream().noneMatch(frame::isExposedAs));
  }

  private static void close(List<ShotFrame> set, List<List<ShotFrame>> whole) {
    ShotFrame first = set.get(0);
    if (set.stream().anyMatch(frame -> !frame.isExposedAs(first))) {
      whole.add(List.copyOf(set));
    }
  }
}
