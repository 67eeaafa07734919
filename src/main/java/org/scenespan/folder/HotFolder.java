package org.scenespan.folder;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.NotDirectoryException;
import java.nio.file.Path;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;

/**
 * Notices each picture that comes into a folder once, when it is whole: two snapshots and their
 * difference, a quiet time, and the format's own end mark. It makes no difference whether a file
 * grew in place, was renamed into place or came over a mount that sends no events. Files are opened
 * for reading only. Not for sharing between threads.
 */
public final class HotFolder {
  /** How long a file must have been still before its end mark is looked for. */
  public static final Duration QUIET = Duration.ofMillis(400);

  /** After how long without a change a file without its end mark is given up as broken. */
  public static final Duration BROKEN_AFTER = Duration.ofSeconds(30);

  /** The most pictures in the life of one hot folder. */
  public static final int MAX_FILES = 200_000;

  /** The biggest file that is read, bytes: 1 GiB. */
  public static final long MAX_FILE_BYTES = 1L << 30;

  private final Path folder;
  private final Set<String> known;
  private final GrowingFiles growing;
  private final Listings listings = new Listings();
  private SettledFiles settled = new SettledFiles(false);

  /** What a directory tells of a file; a change of either is a change of the file. */
  record Stamp(long size, long seconds, int nanos) {
    /** The stamp of a regular file; nothing for a directory or a file that has just gone. */
    static Optional<Stamp> of(Path file) {
      try {
        BasicFileAttributes attributes = Files.readAttributes(file, BasicFileAttributes.class);
        return attributes.isRegularFile() ? Optional.of(of(attributes)) : Optional.empty();
      } catch (IOException e) {
        return Optional.empty();
      }
    }

    private static Stamp of(BasicFileAttributes attributes) {
      Instant time = attributes.lastModifiedTime().toInstant();
      return new Stamp(attributes.size(), time.getEpochSecond(), time.getNano());
    }

    Instant time() {
      return Instant.ofEpochSecond(seconds, nanos);
    }

    /** Whether the file may have changed since without showing it: some disks keep even seconds. */
    boolean isCoarse() {
      return nanos == 0;
    }
  }

  private record Found(Arrival arrival, Instant time) {}

  /**
   * @param known names of the old files, see {@link #names}, which are no arrivals unless they
   *     change later
   * @param quiet how long a file must have been still, 0 or more; usually {@link #QUIET}
   */
  public HotFolder(Path folder, Set<String> known, Duration quiet) {
    if (quiet.isNegative() || quiet.compareTo(BROKEN_AFTER) >= 0) {
      throw new IllegalArgumentException("quiet time (" + quiet + ") must be 0 to 30 s");
    }
    this.folder = folder;
    this.known = new HashSet<>(known);
    this.growing = new GrowingFiles(quiet);
  }

  /**
   * The names of the pictures that are in a folder now.
   *
   * @throws IOException if the folder cannot be listed, with a one-line message
   */
  public static Set<String> names(Path folder) throws IOException {
    Set<String> names = new HashSet<>();
    for (Path file : list(folder, name -> true)) {
      names.add(file.getFileName().toString());
    }
    return names;
  }

  public Path folder() {
    return folder;
  }

  /**
   * Of many files looks at those that are new, and only now and then at those that were told: for a
   * session of thousands of frames. Before the first look.
   *
   * @return this
   */
  public HotFolder sparing() {
    settled = new SettledFiles(true);
    return this;
  }

  /** Something was done to a file of this name: the next look is at that, too. */
  void hint(String name) {
    listings.hint(name);
  }

  /** Something may have been done to any file: the next look is a listing. */
  void hintMissed() {
    listings.miss();
  }

  /**
   * Looks once: lists the folder, or where many are known and a few will do, looks at these.
   *
   * @return files that are newly whole or newly broken, the oldest first
   * @throws IOException if the folder cannot be listed, with a one-line message; nothing that was
   *     seen before is forgotten
   */
  public List<Arrival> scan(Instant now) throws IOException {
    List<Found> found = new ArrayList<>();
    Set<String> present = new HashSet<>();
    for (Path file : files(now)) {
      String name = file.getFileName().toString();
      Optional<Stamp> stamp = Stamp.of(file);
      if (stamp.isPresent()) {
        present.add(name);
        look(file, name, stamp.get(), now)
            .ifPresent(arrival -> found.add(new Found(arrival, stamp.get().time())));
      }
    }
    growing.keep(present);
    known.removeAll(present);
    if (!known.isEmpty() && Files.isDirectory(folder)) {
      // Else it went away while it was looked at: what could not be is old when it is back.
      known.clear();
    }
    if (settled.size() + growing.size() > MAX_FILES) {
      throw new IOException("hot folder " + folder + " has more than " + MAX_FILES + " pictures");
    }
    found.sort(
        Comparator.comparing(Found::time).thenComparing((Found one) -> one.arrival().name()));
    return found.stream().map(Found::arrival).toList();
  }

  /** What is to be looked at. */
  private Collection<Path> files(Instant now) throws IOException {
    Optional<FileTime> stamp = folderStamp();
    Optional<Set<String>> few = listings.next(stamp, now);
    if (few.isPresent() && settled.areMany()) {
      Set<Path> files = new LinkedHashSet<>(growing.files());
      few.get().stream()
          .filter(name -> FrameName.of(name).isPresent())
          .forEach(name -> files.add(folder.resolve(name)));
      return files;
    }
    settled.beginListing();
    List<Path> all = list(folder, settled::isDue);
    listings.listed(stamp, now);
    return all;
  }

  private Optional<FileTime> folderStamp() {
    try {
      return Optional.of(Files.getLastModifiedTime(folder));
    } catch (IOException gone) {
      return Optional.empty(); // The listing says it better.
    }
  }

  /** The names of files that are there but not yet whole. */
  public Set<String> onTheWay() {
    return growing.names();
  }

  /** When the next file may become whole; nothing where none is on its way. */
  public Optional<Instant> nextLook() {
    return growing.nextLook();
  }

  /**
   * A file that seems to be whole before its quiet time is over; each is told once as it is. What
   * is read of it counts only if it is the same at the end, see {@link #isSettledAs}.
   */
  Optional<GrowingFiles.Settling> settling(Instant now) {
    return growing.settling(now);
  }

  /** When the next file may be read ahead of time; nothing where none may. */
  Optional<Instant> nextSettling() {
    return growing.nextSettling();
  }

  /** Whether a file that is now whole is still as it was. */
  boolean isSettledAs(String name, Stamp stamp) {
    return settled.isAs(name, stamp);
  }

  private Optional<Arrival> look(Path file, String name, Stamp stamp, Instant now) {
    if (settled.isAs(name, stamp)) {
      return Optional.empty();
    }
    if (known.contains(name)) {
      settled.settle(name, stamp);
      return Optional.empty();
    }
    if (!growing.contains(name) && !settled.contains(name)) {
      listings.found(name);
    }
    Optional<Arrival> arrival = growing.look(file, name, stamp, now);
    arrival.ifPresent(told -> settled.settle(name, stamp));
    return arrival;
  }

  /** Files whose names may be pictures', as far as they are wanted. */
  private static List<Path> list(Path folder, Predicate<String> wanted) throws IOException {
    List<Path> files = new ArrayList<>();
    try (DirectoryStream<Path> stream = Files.newDirectoryStream(folder)) {
      for (Path file : stream) {
        String name = file.getFileName().toString();
        // Most are known: they are left out first, which costs least.
        if (wanted.test(name) && FrameName.of(name).isPresent()) {
          files.add(file);
        }
      }
    } catch (NoSuchFileException e) {
      throw new IOException("hot folder " + folder + " does not exist", e);
    } catch (NotDirectoryException e) {
      throw new IOException("hot folder " + folder + " is no folder", e);
    } catch (AccessDeniedException e) {
      throw new IOException("hot folder " + folder + " may not be read", e);
    } catch (DirectoryIteratorException e) {
      throw new IOException("hot folder " + folder + " cannot be listed: " + e.getMessage(), e);
    }
    return files;
  }
}
