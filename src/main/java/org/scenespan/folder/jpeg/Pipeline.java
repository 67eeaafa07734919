package org.scenespan.folder.jpeg;

/**
 * One picture on its way from codes to rows. Every thread that runs it takes the next step that can
 * be taken until all are done: rows of pixels before codes, so that little is in memory at a time.
 */
final class Pipeline implements Runnable {
  /** Rows of units in samples: one below and one above what is being read. */
  private static final int LEAST_RING = 3;

  private final Layout layout;
  private final ScanReader reader;
  private final RowSink sink;
  private final Spares.Loan loan;
  private final Samples[] ring;
  private final int segmentsPerRow;
  private int nextRow;
  private int nextSegment;
  private boolean readingNow;
  private final int[] transformed;
  private int transformedBefore;
  private boolean showingNow;
  private final boolean[] shown;
  private int nextShown;
  private int shownBefore;
  private Throwable failure;

  Pipeline(Layout layout, ScanReader reader, RowSink sink, int threads, Spares spares) {
    this.layout = layout;
    this.reader = reader;
    this.sink = sink;
    this.loan = spares.lend(layout, Math.min(layout.mcuRows() + 1, LEAST_RING + 3 * (threads - 1)));
    this.ring = loan.ring();
    this.segmentsPerRow = Segment.ofRow(layout);
    this.transformed = new int[layout.mcuRows()];
    this.shown = new boolean[layout.mcuRows()];
  }

  /** What a thread works with. */
  private final class Bench {
    final Segment segment = new Segment(layout);
    final SegmentTransform transform = new SegmentTransform(layout);
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
      }
    } catch (RuntimeException | Error e) {
      synchronized (this) {
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
      if (failure != null || shownBefore == shown.length && isRead()) {
        notifyAll();
        return null;
      }
      Step step = possible();
      if (step != null) {
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
    if (!readingNow && !isRead() && nextRow < shownBefore + ring.length - 1) {
      return read();
    }
    return canShow() ? show() : null;
  }

  private boolean isRead() {
    return nextRow == transformed.length;
  }

  /** Codes one thread at a time, in their order; what they say is transformed by any. */
  private Step read() {
    readingNow = true;
    int row = nextRow;
    int segment = nextSegment;
    return bench -> {
      reader.read(Segment.units(layout, segment), bench.segment);
      boolean last = row + 1 == transformed.length && segment + 1 == segmentsPerRow;
      if (last) {
        reader.finish();
      }
      synchronized (this) {
        readingNow = false;
        nextSegment = (segment + 1) % segmentsPerRow;
        nextRow = row + (segment + 1) / segmentsPerRow;
        notifyAll();
      }
      bench.transform.run(bench.segment, segment, ring[row % ring.length]);
      synchronized (this) {
        transformed[row]++;
        while (transformedBefore < transformed.length
            && transformed[transformedBefore] == segmentsPerRow) {
          transformedBefore++;
        }
        notifyAll();
      }
    };
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
          notifyAll();
        }
      }
    };
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
      notifyAll();
    }
  }
}
