package org.scenespan.rehearsal;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.OpenOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.LinkedHashSet;
import java.util.Locale;
import java.util.Set;
import org.scenespan.rehearsal.RigSettings.Placing;

/**
 * The folder that the simulated camera writes into, with a camera's file names ({@code
 * SCN_0001.JPG} to 9999, then again 0001). A file that is there already is never touched: where
 * every number is taken, other characters go before them, as a camera begins another directory
 * (CIPA DC-009 leaves four of a file's name free).
 */
final class CameraCard {
  static final int LAST_NUMBER = 9999;
  private static final String JPEG = ".JPG";
  private static final String RAW = ".DNG";

  /** Where nobody asks, no more are remembered. */
  private static final int MOST_WRITTEN = 256;

  private final Path folder;
  private final Placing placing;
  private Set<String> written = new LinkedHashSet<>();
  private int next;
  private int round;

  /** Rounds of numbers: {@code SCN_}, then {@code SC1_} to {@code SC9_}. */
  private static final int ROUNDS = 10;

  /** From a number of one round to the same of the next. */
  private static final int ROUND = LAST_NUMBER + 1;

  CameraCard(Path folder, Placing placing, int firstNumber) {
    this.folder = folder;
    this.placing = placing;
    this.next = firstNumber;
  }

  /**
   * Takes the next number of which there is no file yet.
   *
   * @throws IOException if every number is taken
   */
  int takeNumber() throws IOException {
    for (; round < ROUNDS; round++, next = 1) {
      for (int tries = 0; tries < LAST_NUMBER; tries++) {
        int number = round * ROUND + next;
        next = next == LAST_NUMBER ? 1 : next + 1;
        if (!Files.exists(jpeg(number)) && !Files.exists(raw(number))) {
          return number;
        }
      }
    }
    throw new IOException("every number up to " + LAST_NUMBER + " is taken in " + folder);
  }

  Path jpeg(int number) {
    return folder.resolve(stem(number) + JPEG);
  }

  Path raw(int number) {
    return folder.resolve(stem(number) + RAW);
  }

  private static String stem(int number) {
    int round = number / ROUND;
    String free = round == 0 ? "SCN_" : "SC" + round + "_";
    return String.format(Locale.ROOT, "%s%04d", free, number % ROUND);
  }

  /** Writes the first half of a file. */
  void begin(Path file, byte[] bytes) throws IOException {
    write(underway(file), bytes, 0, bytes.length / 2, StandardOpenOption.CREATE_NEW);
  }

  /** Writes the second half, and gives the file its name if it had another. */
  void finish(Path file, byte[] bytes) throws IOException {
    int half = bytes.length / 2;
    write(underway(file), bytes, half, bytes.length - half, StandardOpenOption.APPEND);
    if (placing == Placing.RENAMED) {
      Files.move(underway(file), file);
      note(file);
    }
  }

  /** Writes a file that is there once more. */
  void rewrite(Path file, byte[] bytes) throws IOException {
    write(file, bytes, 0, bytes.length, StandardOpenOption.TRUNCATE_EXISTING);
  }

  /** Writes a file once more, under a name of its own. */
  void copy(Path file, byte[] bytes) throws IOException {
    Path other = file.resolveSibling("COPY_" + file.getFileName());
    write(other, bytes, 0, bytes.length, StandardOpenOption.CREATE_NEW);
  }

  /**
   * The names of the files to which something was written since the last call, or of very many the
   * newest.
   */
  Set<String> takeWritten() {
    Set<String> taken = written;
    written = new LinkedHashSet<>();
    return taken;
  }

  private void note(Path file) {
    if (written.size() == MOST_WRITTEN) {
      written.remove(written.iterator().next());
    }
    written.add(file.getFileName().toString());
  }

  void renumber(int first) {
    round = 0;
    next = first;
  }

  private Path underway(Path file) {
    return placing == Placing.GROWING ? file : file.resolveSibling(file.getFileName() + ".part");
  }

  private void write(Path file, byte[] bytes, int from, int count, OpenOption how)
      throws IOException {
    note(file);
    try (OutputStream out = Files.newOutputStream(file, StandardOpenOption.WRITE, how)) {
      out.write(bytes, from, count);
    }
  }
}
