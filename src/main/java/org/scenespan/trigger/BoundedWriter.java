package org.scenespan.trigger;

import java.io.IOException;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/** Does one port's writes on a thread that may be left behind, so that none takes for ever. */
final class BoundedWriter implements AutoCloseable {
  private final String name;
  private final ExecutorService thread;

  /**
   * @param name of the port, for errors
   */
  BoundedWriter(String name) {
    this.name = name;
    this.thread =
        Executors.newSingleThreadExecutor(
            task -> {
              Thread writer = new Thread(task, "scenespan-port-writer");
              writer.setDaemon(true);
              return writer;
            });
  }

  /**
   * Does a write.
   *
   * @param count how many bytes it is about, for errors
   * @param write says whether it was done
   * @throws IOException if it was not, or not in time
   */
  void write(int count, long limitMillis, Callable<Boolean> write) throws IOException {
    try {
      Future<Boolean> written = thread.submit(write);
      if (!written.get(limitMillis, TimeUnit.MILLISECONDS)) {
        throw new IOException("port \"" + name + "\" is gone");
      }
    } catch (TimeoutException e) {
      throw new IOException(
          "port \"" + name + "\" did not take " + count + " bytes in " + limitMillis + " ms", e);
    } catch (ExecutionException | RejectedExecutionException e) {
      throw new IOException("port \"" + name + "\" cannot be written: " + e.getMessage(), e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("writing to port \"" + name + "\" was interrupted", e);
    }
  }

  @Override
  public void close() {
    thread.shutdownNow();
  }
}
