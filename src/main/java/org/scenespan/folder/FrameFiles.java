package org.scenespan.folder;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileVisitOption;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.function.Consumer;

/** The frames of a folder, by their names' extensions. */
public final class FrameFiles {
  /** A card holds some ten thousand, an archive some hundred thousand. */
  private static final int MOST_FILES = 1_000_000;

  private static final int DEEPEST = 64;

  private FrameFiles() {}

  /** What of a raw file's and its JPEG's name is the same. */
  public static String press(Path file) {
    String name = file.getFileName().toString();
    return FrameName.of(name).map(FrameName::stem).orElse(name);
  }

  public static boolean isRaw(Path file) {
    return FrameName.isRaw(file.getFileName().toString());
  }

  /**
   * Lists the frames of a folder in the order of their names, a folder's own before those of the
   * folders in it. Links to folders are not followed, and the previews that a session keeps are
   * left out.
   *
   * @param deep whether the folders in it are looked through too
   * @param unreadable told of each folder within that cannot be read
   * @throws IOException if the folder itself cannot be read
   * @throws IllegalArgumentException if there are more files than can be looked at
   */
  public static List<Path> in(Path folder, boolean deep, Consumer<Path> unreadable)
      throws IOException {
    List<Path> files = new ArrayList<>();
    Files.walkFileTree(
        folder,
        EnumSet.noneOf(FileVisitOption.class),
        deep ? DEEPEST : 1,
        new SimpleFileVisitor<>() {
          @Override
          public FileVisitResult preVisitDirectory(Path within, BasicFileAttributes attributes) {
            return isOwnPreviews(within) ? FileVisitResult.SKIP_SUBTREE : FileVisitResult.CONTINUE;
          }

          @Override
          public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) {
            if (!attributes.isDirectory()
                && FrameName.of(file.getFileName().toString()).isPresent()) {
              if (files.size() == MOST_FILES) {
                throw new IllegalArgumentException(
                    "\""
                        + folder
                        + "\" has more than "
                        + MOST_FILES
                        + " frames; name a part of it");
              }
              files.add(file);
            }
            return FileVisitResult.CONTINUE;
          }

          @Override
          public FileVisitResult visitFileFailed(Path file, IOException failure) {
            if (file.equals(folder)) {
              throw new UncheckedIOException(failure);
            }
            unreadable.accept(file);
            return FileVisitResult.CONTINUE;
          }
        });
    files.sort(
        (one, other) -> {
          int byFolder = one.getParent().compareTo(other.getParent());
          return byFolder != 0 ? byFolder : one.compareTo(other);
        });
    return files;
  }

  /** The small pictures in a session's own directory are nobody's frames. */
  private static boolean isOwnPreviews(Path folder) {
    return folder.endsWith("previews") && Files.exists(folder.resolveSibling("journal.jsonl"));
  }
}
