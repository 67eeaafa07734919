package org.scenespan.folder;

import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.Set;

/**
 * When a folder of many files has to be listed, and when a look at a few of them will do: those
 * that hints name. A hint may be missing, come late or name anything; as long as hints do not tell
 * of new files, the folder's own time does, and where that does not either, a listing now and then.
 * Not for sharing between threads.
 */
final class Listings {
  /** But at least this often: two files within one tick of a disk's clock leave one stamp. */
  static final Duration LIST_AFTER = Duration.ofSeconds(5);

  /** The same where the last new file was told by a hint. */
  static final Duration LIST_AFTER_HINTED = Duration.ofSeconds(60);

  /** Hints that wait for a look at most; more are as good as none. */
  private static final int MOST_HINTS = 1024;

  private Set<String> waiting = new LinkedHashSet<>();
  private Set<String> hinted = Set.of();
  private boolean telling;
  private Optional<FileTime> stamp = Optional.empty();
  private Instant listedAt = Instant.MIN;

  /** Something was done to a file of this name. */
  void hint(String name) {
    if (waiting.size() < MOST_HINTS) {
      waiting.add(name);
    } else {
      miss();
    }
  }

  /** Something may have been done to any file. */
  void miss() {
    telling = false;
    stamp = Optional.empty();
  }

  /**
   * Begins a look.
   *
   * @param present the folder's own time; absent if it does not say
   * @return the names to look at beside those that grow, or nothing if the folder is to be listed
   */
  Optional<Set<String>> next(Optional<FileTime> present, Instant now) {
    hinted = waiting;
    waiting = new LinkedHashSet<>();
    boolean recent = now.isBefore(listedAt.plus(telling ? LIST_AFTER_HINTED : LIST_AFTER));
    boolean known = stamp.isPresent() && present.isPresent();
    boolean told = stamp.equals(present) || telling && !hinted.isEmpty();
    if (known && recent && told) {
      stamp = present;
      return Optional.of(hinted);
    }
    return Optional.empty();
  }

  /** The folder was listed as a whole. */
  void listed(Optional<FileTime> before, Instant now) {
    stamp = before;
    listedAt = now;
  }

  /** A look found a file that had not been there. */
  void found(String name) {
    telling = hinted.contains(name);
  }
}
