package org.scenespan.cli;

import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.BiConsumer;
import java.util.function.IntConsumer;
import org.scenespan.folder.FrameReader;
import org.scenespan.folder.UnreadableFrame;
import org.scenespan.frame.FrameReading;

/** Reads many files on all cores and hands the results over in the order of the files. */
final class FrameReadings {
  /** Memory that one big frame takes while it is decoded, bytes. */
  private static final long BYTES_A_FRAME = 320L << 20;

  /** Frames to a thread that are read ahead of the one that is handed over. */
  private static final int AHEAD = 4;

  /**
   * What came of a file: one of the two is there.
   *
   * @param error in one line
   */
  record Outcome(FrameReading reading, String error) {}

  private FrameReadings() {}

  /**
   * @param done told how many files are read each time that one more has been handed over
   */
  static void read(
      FrameReader reader, List<Path> files, BiConsumer<Path, Outcome> sink, IntConsumer done)
      throws InterruptedException {
    if (files.isEmpty()) {
      return;
    }
    long room = Math.max(1, Runtime.getRuntime().maxMemory() / BYTES_A_FRAME);
    int threads =
        (int) Math.min(Math.min(Runtime.getRuntime().availableProcessors(), room), files.size());
    ExecutorService readers =
        Executors.newFixedThreadPool(
            threads,
            work -> {
              Thread thread = new Thread(work, "reader");
              thread.setDaemon(true);
              return thread;
            });
    try {
      Deque<Future<Outcome>> ahead = new ArrayDeque<>();
      int given = 0;
      for (int i = 0; i < files.size(); i++) {
        while (given < files.size() && ahead.size() < AHEAD * threads) {
          Path file = files.get(given++);
          ahead.add(readers.submit(() -> outcome(reader, file)));
        }
        sink.accept(files.get(i), ahead.remove().get());
        done.accept(i + 1);
      }
    } catch (ExecutionException e) {
      throw new IllegalStateException("a reader failed", e.getCause());
    } finally {
      readers.shutdownNow();
    }
  }

  private static Outcome outcome(FrameReader reader, Path file) {
    try {
      return new Outcome(reader.read(file), null);
    } catch (UnreadableFrame e) {
      return new Outcome(null, e.getMessage());
    }
  }
}
