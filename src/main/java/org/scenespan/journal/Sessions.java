package org.scenespan.journal;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/**
 * The directory that holds all sessions, each in a directory of its own: its journal, the names of
 * the files that were in the hot folder before it began, and its previews.
 */
public final class Sessions {
  private static final String BEFORE = "before.txt";
  private static final String PREVIEWS = "previews";

  /** Where a simulated camera puts its frames, in the session's own directory. */
  public static final String FRAMES = "frames";

  /** Sessions that begin in one second and on one scene. */
  private static final int MOST_NAMESAKES = 1000;

  private final Path root;

  public Sessions(Path root) {
    this.root = root;
  }

  public Path root() {
    return root;
  }

  /**
   * Makes the directory of a new session.
   *
   * @param name the wished name; a number is added if there is one of it already
   * @return the directory, whose own name is the session's
   */
  public Path create(String name) throws IOException {
    requireName(name);
    Files.createDirectories(root);
    for (int i = 1; i <= MOST_NAMESAKES; i++) {
      Path directory = root.resolve(i == 1 ? name : name + "-" + i);
      try {
        Files.createDirectory(directory);
        Files.createDirectory(directory.resolve(PREVIEWS));
        return directory;
      } catch (FileAlreadyExistsException taken) {
        // Try the next number.
      }
    }
    throw new IOException("there are too many sessions named " + name + " in \"" + root + "\"");
  }

  /**
   * The directory of a session that exists.
   *
   * @throws IllegalArgumentException if there is none of that name
   */
  public Path find(String name) {
    requireName(name);
    Path directory = root.resolve(name);
    if (!Files.isRegularFile(directory.resolve(Journal.FILE_NAME))) {
      throw new IllegalArgumentException(
          "there is no session \"" + name + "\" in \"" + root + "\"; see: scenespan sessions list");
    }
    return directory;
  }

  /** The names of all sessions that have a journal, the oldest first. */
  public List<String> names() throws IOException {
    if (!Files.isDirectory(root)) {
      return List.of();
    }
    List<String> names = new ArrayList<>();
    try (Stream<Path> entries = Files.list(root)) {
      entries
          .filter(entry -> Files.isRegularFile(entry.resolve(Journal.FILE_NAME)))
          .forEach(entry -> names.add(entry.getFileName().toString()));
    }
    names.sort(Comparator.naturalOrder());
    return names;
  }

  /**
   * Removes the directory of a session in which nothing was recorded.
   *
   * @throws IOException if its journal has records, or something cannot be removed
   */
  public static void removeEmpty(Path directory) throws IOException {
    Path journal = directory.resolve(Journal.FILE_NAME);
    if (Files.size(journal) > 0) {
      throw new IOException("session \"" + directory + "\" is not empty");
    }
    Files.delete(journal);
    Files.deleteIfExists(directory.resolve(Journal.LOCK_NAME));
    Files.deleteIfExists(directory.resolve(BEFORE));
    for (Path entry : List.of(directory.resolve(PREVIEWS), directory.resolve(FRAMES))) {
      Files.deleteIfExists(entry);
    }
    Files.delete(directory);
  }

  public static Path previews(Path directory) {
    return directory.resolve(PREVIEWS);
  }

  /** Keeps the names of the files that a session must leave alone. */
  public static void writeBefore(Path directory, Set<String> names) throws IOException {
    List<String> sorted = new ArrayList<>();
    for (String name : names) {
      // A line is a name; a name with a line end in it is no camera's.
      if (name.indexOf('\n') < 0 && name.indexOf('\r') < 0) {
        sorted.add(name);
      }
    }
    sorted.sort(Comparator.naturalOrder());
    Files.write(directory.resolve(BEFORE), sorted);
  }

  public static Set<String> readBefore(Path directory) throws IOException {
    Path file = directory.resolve(BEFORE);
    return Files.exists(file) ? new HashSet<>(Files.readAllLines(file)) : new HashSet<>();
  }

  private static void requireName(String name) {
    if (!name.matches("[A-Za-z0-9][A-Za-z0-9_.-]{0,99}")) {
      throw new IllegalArgumentException("\"" + name + "\" is not the name of a session");
    }
  }
}
