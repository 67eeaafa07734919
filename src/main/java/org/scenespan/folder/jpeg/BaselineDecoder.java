package org.scenespan.folder.jpeg;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;

/** Decodes the JPEG files that cameras write, on several threads, or says that it will not. */
public final class BaselineDecoder {
  /** More would wait: codes, read by one at a time, are a third of the work. */
  private static final int MOST_THREADS = 4;

  /** Pixels below which a second thread is not worth its start. */
  private static final int FEW_PIXELS = 1 << 18;

  private static final ExecutorService THREADS =
      Executors.newCachedThreadPool(
          work -> {
            Thread thread = new Thread(work, "scenespan-pixels");
            thread.setDaemon(true);
            return thread;
          });

  /** A heap up to which memory goes before speed, bytes. */
  private static final long SMALL_HEAP = 48L << 20;

  private static final int READ_BYTES = 1 << 15;

  private final int threads;
  private final int readBytes;
  private final Spares spares = new Spares();

  /** On all processors; in a small heap on one. */
  public BaselineDecoder() {
    this(isHeapSmall() ? 1 : Runtime.getRuntime().availableProcessors());
  }

  private static boolean isHeapSmall() {
    return Runtime.getRuntime().maxMemory() <= SMALL_HEAP;
  }

  /**
   * @param threads 1 or more, the caller's among them
   */
  public BaselineDecoder(int threads) {
    this(threads, READ_BYTES);
  }

  /**
   * @param threads 1 or more, the caller's among them
   * @param readBytes of the file that are read together, 1 or more
   */
  public BaselineDecoder(int threads, int readBytes) {
    if (!(threads >= 1)) {
      throw new IllegalArgumentException("threads (" + threads + ") must be 1 or more");
    }
    if (!(readBytes >= 1)) {
      throw new IllegalArgumentException("bytes to read (" + readBytes + ") must be 1 or more");
    }
    this.threads = Math.min(MOST_THREADS, threads);
    this.readBytes = readBytes;
  }

  /**
   * Decodes a picture.
   *
   * @param header segments of the file from its first two bytes on to before the scan, with no
   *     others of an application's than JFIF's and Adobe's
   * @param start the file's first bytes, up to behind the first scan's header
   * @param scan position of the first scan's header in the file
   * @param end position behind the picture's end mark
   * @param source the file
   * @return why the plain path has to be taken; the sink then has been given some rows or none.
   *     Empty where every row has been taken
   * @throws java.io.UncheckedIOException that the source throws
   */
  public Optional<String> decode(
      byte[] header, byte[] start, int scan, int end, Source source, RowSink sink) {
    try {
      Layout layout = new LayoutReader().read(header, start, scan);
      long pixels = (long) layout.width() * layout.height();
      int used = pixels < FEW_PIXELS ? 1 : threads;
      sink.begin(layout.width(), layout.height());
      ScanReader reader = new ScanReader(layout, source, end, readBytes);
      run(new Pipeline(layout, reader, sink, used, spares), used);
      return Optional.empty();
    } catch (Doubt doubt) {
      return Optional.of(doubt.getMessage());
    }
  }

  private static void run(Pipeline pipeline, int threads) {
    List<Future<?>> others = new ArrayList<>();
    for (int i = 1; i < threads; i++) {
      others.add(THREADS.submit(pipeline));
    }
    pipeline.run();
    for (Future<?> other : others) {
      try {
        other.get();
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        throw new Doubt("interrupted");
      } catch (ExecutionException e) {
        throw new IllegalStateException(e.getCause());
      }
    }
    pipeline.end();
  }
}
