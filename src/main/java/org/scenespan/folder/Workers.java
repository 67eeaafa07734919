package org.scenespan.folder;

import java.io.IOException;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ForkJoinPool;
import java.util.concurrent.ForkJoinTask;

/** Does the two halves of a frame at a time, the second one on another thread if one is free. */
final class Workers {
  private Workers() {}

  /** Work on pixels. */
  interface Work {
    void run() throws IOException;
  }

  static void both(Work one, Work other) throws IOException {
    ForkJoinTask<Void> task =
        ForkJoinPool.commonPool()
            .submit(
                () -> {
                  other.run();
                  return null;
                });
    try {
      one.run();
    } catch (IOException | RuntimeException | Error e) {
      task.cancel(true);
      task.quietlyJoin();
      throw e;
    }
    try {
      // Where the other thread has not yet begun, the calling thread does it here.
      task.get();
    } catch (ExecutionException e) {
      Throwable cause = e.getCause();
      while (cause.getCause() != null && !(cause instanceof IOException)) {
        cause = cause.getCause();
      }
      if (cause instanceof IOException failure) {
        throw failure;
      }
      if (cause instanceof OutOfMemoryError full) {
        throw full;
      }
      throw new IOException("a half of the frame cannot be read: " + cause, cause);
    } catch (InterruptedException e) {
      task.quietlyJoin();
      Thread.currentThread().interrupt();
      throw new IOException("reading was interrupted", e);
    }
  }
}
