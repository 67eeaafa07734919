package org.scenespan.folder;

import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The files that are done with, each as it was, and which of them to look at again at a listing,
 * lest it was rewritten: all of a few, of many a bounded number. A file takes some 150 bytes. Not
 * for sharing between threads.
 */
final class SettledFiles {
  /** Of so many each is looked at each time. */
  static final int FEW = 256;

  /**
   * Of more, so many that were settled last, as programs write into a picture they have just
   * written; and first, as a camera's counter that begins again writes over those.
   */
  static final int AT_EACH_END = 32;

  /** Of the others, about so many at each listing, in turn. */
  static final int IN_TURN = 64;

  /** A file as it was settled. */
  private static final class Settled {
    private final HotFolder.Stamp stamp;
    private final int order;
    private int listed;
    private int dueAt;

    Settled(HotFolder.Stamp stamp, int order, int listed) {
      this.stamp = stamp;
      this.order = order;
      this.listed = listed;
    }
  }

  /** In the order in which they were settled. */
  private final Map<String, Settled> files = new LinkedHashMap<>();

  private final boolean sparing;
  private int orders;
  private int listing;
  private int turns;

  /**
   * @param sparing whether of many files only some are looked at
   */
  SettledFiles(boolean sparing) {
    this.sparing = sparing;
  }

  int size() {
    return files.size();
  }

  boolean areMany() {
    return sparing && files.size() > FEW;
  }

  boolean contains(String name) {
    return files.containsKey(name);
  }

  boolean isAs(String name, HotFolder.Stamp stamp) {
    Settled settled = files.get(name);
    return settled != null && settled.stamp.equals(stamp);
  }

  void settle(String name, HotFolder.Stamp stamp) {
    files.remove(name);
    files.put(name, new Settled(stamp, orders++, listing));
  }

  /** The names that follow, by {@link #isDue}, are all that are in the folder now. */
  void beginListing() {
    listing++;
    turns = Math.max(1, Integer.highestOneBit(files.size() / IN_TURN));
    List<String> gone = new ArrayList<>();
    Iterator<Map.Entry<String, Settled>> oldest = files.entrySet().iterator();
    for (int i = 0; i < AT_EACH_END && oldest.hasNext(); i++) {
      Map.Entry<String, Settled> next = oldest.next();
      next.getValue().dueAt = listing;
      if (next.getValue().listed != listing - 1) {
        gone.add(next.getKey());
      }
    }
    // Else files that were taken away would stand before the oldest that are there, for ever.
    gone.forEach(name -> files.put(name, files.remove(name)));
  }

  /** Whether a file of the listing is to be looked at: it is new, or may have been rewritten. */
  boolean isDue(String name) {
    Settled settled = files.get(name);
    if (settled == null) {
      return true;
    }
    boolean back = settled.listed != listing - 1;
    settled.listed = listing;
    return !areMany()
        || back
        || settled.dueAt == listing
        || settled.order >= orders - AT_EACH_END
        || (settled.order + listing) % turns == 0;
  }
}
