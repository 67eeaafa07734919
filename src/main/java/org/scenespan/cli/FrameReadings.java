package org.scenespan.cli;

import java.nio.file.Path;
import java.util.ArrayList;
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
  static void read(List<Path> files, BiConsumer<Path, Outcome> sink, IntConsumer done)
      throws InterruptedException {
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
      FrameReader reader = new FrameReader();
      List<Future<Outcome>> outcomes = new ArrayList<>();
      for (Path file : files) {
        outcomes.add(readers.submit(() -> outcome(reader, file)));
      }
      for (int i = 0; i < files.size(); i++) {
        sink.accept(files.get(i), outcomes.get(i).get());
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
