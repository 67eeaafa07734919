package org.scenespan.folder.jpeg;

/** Turns the coefficients of a segment into samples. One to a thread. */
final class SegmentTransform {
  private static final int BATCH = InverseTransform.BATCH;

  /**
   * The sum of a block's amounts up to which 16 bits hold every value within the transform, as they
   * must where a library works with 16 bits: 32767 over four times the largest factor, 1.3871.
   */
  private static final int SURE_SUM = 32767 * 10000 / (4 * 13871);

  private final Layout layout;
  private final int groups;
  private final InverseTransform transform = new InverseTransform();
  private final int[] amounts = new int[BATCH];

  SegmentTransform(Layout layout) {
    this.layout = layout;
    this.groups = Samples.groups(layout);
  }

  /**
   * @param number of the segment within its row
   * @param into the row's
   */
  void run(Segment segment, int number, Samples into) {
    Layout.Sampling sampling = layout.sampling();
    int first = number * Segment.GROUPS;
    int count = Math.min(Segment.GROUPS, groups - first);
    for (int batch = 0; batch < segment.batches.length; batch++) {
      int phase = batch % layout.blocksPerMcu();
      int component = layout.componentOf()[phase];
      boolean wide = sampling.isWide(component);
      int line = component == 0 ? phase / sampling.across : 0;
      int half = sampling.across == 1 ? batch / layout.blocksPerMcu() : wide ? phase % 2 : 0;
      check(segment.batches[batch]);
      int[][] packed = transform.run(segment.batches[batch], wide ? 4 : 2);
      for (int run = 0; run < packed.length; run++) {
        int at = (2 * half + run) * groups + first;
        for (int y = 0; y < 8; y++) {
          int[] row = into.planes[component][8 * line + y];
          System.arraycopy(packed[run], y * BATCH, row, at, count);
        }
      }
    }
  }

  private void check(int[] coefficients) {
    transform.amounts(coefficients, amounts);
    for (int i = 0; i < BATCH; i++) {
      if (amounts[i] > SURE_SUM && !fits(coefficients, i)) {
        throw new Doubt("coefficients that a picture of 8 bits does not have");
      }
    }
  }

  /** Whether 16 bits hold the sums of each row between the passes, worked out for one block. */
  private static boolean fits(int[] coefficients, int column) {
    double[][] half = new double[8][8];
    for (int u = 0; u < 8; u++) {
      double amount = 0;
      for (int v = 0; v < 8; v++) {
        double value = coefficients[(8 * v + u) * BATCH + column];
        amount += Math.abs(value);
        for (int y = 0; y < 8; y++) {
          double factor = v == 0 ? 1 : Math.sqrt(2) * Math.cos((2 * y + 1) * v * Math.PI / 16);
          half[y][u] += 4 * value * factor;
        }
      }
      if (amount > SURE_SUM) {
        return false;
      }
    }
    for (double[] row : half) {
      double amount = 0;
      for (double value : row) {
        amount += Math.abs(value) + 1;
      }
      if (amount > 32767) {
        return false;
      }
    }
    return true;
  }
}
