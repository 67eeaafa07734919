package org.scenespan.folder.jpeg;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;

/**
 * One picture on its way from codes to rows. Every thread that runs it takes the next step that can
 * be taken until all are done: rows of pixels before transforms before joining before codes, so
 * that little is in memory at a time.
 */
final class Pipeline implements Runnable {
  /** Rows of units in samples: one below and one above what is being joined. */
  private static final int LEAST_RING = 3;

  private final Layout layout;
  private final ScanParts parts;
  private final Joining joining;
  private final RowSink sink;
  private final Spares.Loan loan;
  private final Samples[] ring;
  private final Deque<Chunk> free = new ArrayDeque<>();
  private final Chunk[] decoded;
  private int nextPart;
  private int nextJoin;
  private boolean joiningNow;
  private boolean showingNow;
  private final boolean[] transformed;
  private int nextTransform;
  private int transformedBefore;
  private final boolean[] shown;
  private int nextShown;
  private int shownBefore;
  private int chunksLeft;
  private int busy;
  private Throwable failure;

  Pipeline(
      Layout layout,
      Source source,
      int end,
      RowSink sink,
      int threads,
      int partBytes,
      Spares spares) {
    this.layout = layout;
    this.parts = new ScanParts(layout, source, end, partBytes);
    this.joining = new Joining(layout);
    this.sink = sink;
    this.loan = spares.lend(layout, Math.min(layout.mcuRows() + 1, LEAST_RING + 3 * (threads - 1)));
    this.ring = loan.ring();
    this.decoded = new Chunk[parts.count()];
    this.transformed = new boolean[layout.mcuRows()];
    this.shown = new boolean[layout.mcuRows()];
    this.chunksLeft = 2 * threads + 1;
  }

  /** What a thread works with. */
  private final class Bench {
    final BlockDecoder decoder = new BlockDecoder(layout);
    final RowTransform transform = new RowTransform(layout);
    final RowColours colours = new RowColours(layout);
    final RowSink.Part part = sink.part();
    int lastRow = -2;
  }

  /** A step that a thread has taken on. */
  private interface Step {
    void take(Bench bench);
  }

  /**
   * Works until the picture is done or a thread has failed.
   *
   * @throws Doubt if the picture is not to be decoded here
   */
  @Override
  public void run() {
    Bench bench = new Bench();
    try {
      for (Step step = next(); step != null; step = next()) {
        step.take(bench);
        synchronized (this) {
          busy--;
          notifyAll();
        }
      }
    } catch (RuntimeException | Error e) {
      synchronized (this) {
        busy--;
        if (failure == null) {
          failure = e;
        }
        notifyAll();
      }
    }
  }

  /**
   * Ends the picture when all threads have.
   *
   * @throws RuntimeException that a thread failed with
   */
  synchronized void end() {
    loan.end();
    if (failure instanceof Error error) {
      throw error;
    }
    if (failure instanceof RuntimeException e) {
      throw e;
    }
  }

  private synchronized Step next() {
    while (true) {
      if (failure != null || shownBefore == shown.length && nextJoin == decoded.length) {
        notifyAll();
        return null;
      }
      Step step = possible();
      if (step != null) {
        busy++;
        return step;
      }
      try {
        wait();
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        throw new Doubt("interrupted");
      }
    }
  }

  private Step possible() {
    // Rows after each other by one thread: another would have to look at the row above once more.
    if (!showingNow && canShow()) {
      return show();
    }
    int rows = shown.length;
    if (nextTransform < rows
        && nextTransform < shownBefore + ring.length - 1
        && joining.blocks() >= (nextTransform + 1L) * layout.blocksPerRow()) {
      int row = nextTransform++;
      return bench -> transform(bench, row);
    }
    if (!joiningNow && nextJoin < decoded.length && decoded[nextJoin] != null) {
      joiningNow = true;
      return bench -> join();
    }
    // A row that needs more chunks than there should be gets them where nothing else can be done.
    if (nextPart < decoded.length && (!free.isEmpty() || chunksLeft > 0 || busy == 0)) {
      int part = nextPart++;
      Chunk chunk = free.poll();
      if (chunk == null) {
        chunksLeft--;
        chunk = loan.chunk();
      }
      Chunk taken = chunk;
      return bench -> decode(bench, part, taken);
    }
    return canShow() ? show() : null;
  }

  /** Chroma of half the height is blended with the row of units below. */
  private boolean canShow() {
    int below = layout.sampling().down == 2 ? 1 : 0;
    return nextShown < shown.length
        && transformedBefore >= Math.min(nextShown + 1 + below, shown.length);
  }

  private Step show() {
    int row = nextShown++;
    boolean first = !showingNow;
    showingNow = true;
    return bench -> {
      show(bench, row);
      if (first) {
        synchronized (this) {
          showingNow = false;
        }
      }
    };
  }

  private void decode(Bench bench, int part, Chunk chunk) {
    parts.decode(part, chunk, bench.decoder);
    synchronized (this) {
      decoded[part] = chunk;
    }
  }

  private void join() {
    Chunk chunk;
    synchronized (this) {
      chunk = decoded[nextJoin];
      decoded[nextJoin] = null;
    }
    joining.append(chunk);
    boolean last;
    synchronized (this) {
      last = nextJoin + 1 == decoded.length;
    }
    if (last) {
      joining.finish();
    }
    synchronized (this) {
      nextJoin++;
      joiningNow = false;
    }
  }

  private void transform(Bench bench, int row) {
    List<Piece> pieces;
    synchronized (this) {
      pieces = joining.row(row);
    }
    bench.transform.run(pieces, ring[row % ring.length]);
    synchronized (this) {
      transformed[row] = true;
      while (transformedBefore < transformed.length && transformed[transformedBefore]) {
        transformedBefore++;
      }
      free.addAll(joining.release(transformedBefore));
    }
  }

  private void show(Bench bench, int row) {
    int tall = 8 * layout.sampling().down;
    int first = row * tall;
    int end = Math.min(layout.height(), first + tall);
    RowColours colours = bench.colours;
    if (first > 0 && bench.lastRow != first - 1) {
      bench.part.above(first - 1, colours.run(ring, first - 1));
    }
    for (int y = first; y < end; y++) {
      bench.part.row(y, colours.run(ring, y));
    }
    bench.lastRow = end - 1;
    synchronized (this) {
      shown[row] = true;
      while (shownBefore < shown.length && shown[shownBefore]) {
        shownBefore++;
      }
    }
  }
}
