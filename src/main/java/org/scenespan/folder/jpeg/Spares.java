package org.scenespan.folder.jpeg;

import java.lang.ref.SoftReference;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;

/**
 * What one picture was decoded in, kept for the next one of its kind: some megabytes that need not
 * be found and cleared anew. The virtual machine lets go of it when it has been of no use for some
 * time, or when memory runs short. Safe for several threads; one of them gets it.
 */
final class Spares {
  /** What a picture's samples lie in follows from this. */
  private record Shape(Layout.Sampling sampling, int mcusPerRow, int rows) {
    static Shape of(Layout layout, int rows) {
      return new Shape(layout.sampling(), layout.mcusPerRow(), rows);
    }
  }

  private record Kept(Shape shape, Samples[] ring) {}

  private final AtomicReference<SoftReference<Kept>> kept =
      new AtomicReference<>(new SoftReference<>(null));

  /** One picture's own. */
  final class Loan {
    private final Shape shape;
    private final Samples[] ring;

    private Loan(Layout layout, int rows) {
      this.shape = Shape.of(layout, rows);
      this.ring =
          Optional.ofNullable(kept.getAndSet(new SoftReference<>(null)).get())
              .filter(it -> it.shape().equals(shape))
              .map(Kept::ring)
              .orElseGet(() -> fresh(layout, rows));
    }

    Samples[] ring() {
      return ring;
    }

    /** Gives all back; to be called when no thread works on the picture any more. */
    void end() {
      kept.set(new SoftReference<>(new Kept(shape, ring)));
    }
  }

  private static Samples[] fresh(Layout layout, int rows) {
    Samples[] ring = new Samples[rows];
    for (int i = 0; i < rows; i++) {
      ring[i] = new Samples(layout);
    }
    return ring;
  }

  /**
   * @param rows of units in samples
   */
  Loan lend(Layout layout, int rows) {
    return new Loan(layout, rows);
  }
}
