package org.scenespan.folder;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * The files that are not yet whole, each with the time since when it is as it is. One is whole when
 * it has been still for the quiet time and has its format's end mark, and broken when that does not
 * come. Not for sharing between threads.
 */
final class GrowingFiles {
  /** How long a file must have been still before it may be read ahead of its quiet time's end. */
  static final Duration STILL = Duration.ofMillis(60);

  private final Duration quiet;
  private final Map<String, Growing> growing = new HashMap<>();

  /** A file that has its end mark but has not yet been still for the quiet time. */
  record Settling(Path file, HotFolder.Stamp stamp) {}

  /**
   * A file that is not yet whole.
   *
   * @param since when it was first seen as it is
   * @param lookAfter how long after that its end mark is looked for, the next time
   * @param ahead whether it was looked at ahead of time
   */
  private record Growing(
      Path file, HotFolder.Stamp stamp, Instant since, Duration lookAfter, boolean ahead) {
    Instant due() {
      return since.plus(lookAfter);
    }

    boolean mayBeAhead() {
      return !ahead && !stamp.isCoarse();
    }

    Instant still() {
      return since.plus(STILL);
    }
  }

  /**
   * @param quiet how long a file must have been still before its end mark is looked for
   */
  GrowingFiles(Duration quiet) {
    this.quiet = quiet;
  }

  int size() {
    return growing.size();
  }

  boolean contains(String name) {
    return growing.containsKey(name);
  }

  Set<String> names() {
    return Set.copyOf(growing.keySet());
  }

  List<Path> files() {
    return growing.values().stream().map(Growing::file).toList();
  }

  /** Forgets those that are gone. */
  void keep(Collection<String> present) {
    growing.keySet().retainAll(present);
  }

  /**
   * Looks at a file, which grows from its first look on.
   *
   * @return nothing as long as it grows; else what became of it, and it is no longer held here
   */
  Optional<Arrival> look(Path file, String name, HotFolder.Stamp stamp, Instant now) {
    Growing before = growing.get(name);
    if (before == null || !before.stamp().equals(stamp)) {
      before = new Growing(file, stamp, now, quiet, false);
      growing.put(name, before);
    }
    if (now.isBefore(before.due())) {
      return Optional.empty();
    }
    Optional<String> missing = missing(before);
    if (missing.isEmpty()) {
      growing.remove(name);
      return Optional.of(new Arrival.Whole(file));
    }
    boolean tooBig = stamp.size() > HotFolder.MAX_FILE_BYTES;
    if (tooBig || !now.isBefore(before.since().plus(HotFolder.BROKEN_AFTER))) {
      growing.remove(name);
      return Optional.of(new Arrival.Broken(file, missing.get()));
    }
    growing.put(name, new Growing(file, stamp, before.since(), later(before.since(), now), true));
    return Optional.empty();
  }

  /**
   * A file whose time is coarse can grow within its old stamp, so that one look is not enough; each
   * further look waits twice as long.
   */
  private Duration later(Instant since, Instant now) {
    Duration still = Duration.between(since, now);
    Duration twice = still.multipliedBy(2).plus(quiet);
    return twice.compareTo(HotFolder.BROKEN_AFTER) < 0 ? twice : HotFolder.BROKEN_AFTER;
  }

  /** When the next file is to be looked at; nothing where none grows. */
  Optional<Instant> nextLook() {
    return growing.values().stream().map(Growing::due).min(Comparator.naturalOrder());
  }

  /** A file that seems to be whole before its quiet time is over; each is told once as it is. */
  Optional<Settling> settling(Instant now) {
    Optional<Growing> oldest =
        growing.values().stream()
            .filter(one -> one.mayBeAhead() && !now.isBefore(one.still()))
            .min(Comparator.comparing(Growing::since));
    if (oldest.isEmpty()) {
      return Optional.empty();
    }
    Growing one = oldest.get();
    String name = one.file().getFileName().toString();
    growing.put(name, new Growing(one.file(), one.stamp(), one.since(), one.lookAfter(), true));
    boolean same = HotFolder.Stamp.of(one.file()).equals(Optional.of(one.stamp()));
    boolean whole = same && missing(one).isEmpty();
    return whole ? Optional.of(new Settling(one.file(), one.stamp())) : Optional.empty();
  }

  /** When the next file may be read ahead of time; nothing where none may. */
  Optional<Instant> nextSettling() {
    return growing.values().stream()
        .filter(Growing::mayBeAhead)
        .map(Growing::still)
        .min(Comparator.naturalOrder());
  }

  /** What a file lacks to be whole, in words. */
  private static Optional<String> missing(Growing one) {
    if (one.stamp().size() == 0) {
      return Optional.of("it is empty");
    }
    if (one.stamp().size() > HotFolder.MAX_FILE_BYTES) {
      return Optional.of("it is bigger than 1 GiB");
    }
    String name = one.file().getFileName().toString();
    try {
      return EndMark.missing(one.file(), FrameName.of(name).orElseThrow());
    } catch (AccessDeniedException e) {
      return Optional.of("it may not be read");
    } catch (IOException e) {
      return Optional.of("it cannot be read: " + e.getMessage());
    }
  }
}
