package org.scenespan.folder.jpeg;

import java.util.List;

/** Turns the coefficients of one row of coded units into samples. One to a thread. */
final class RowTransform {
  private static final int BATCH = InverseTransform.BATCH;

  /**
   * The sum of a block's amounts up to which 16 bits hold every value within the transform, as they
   * must where a library works with 16 bits: 32767 over four times the largest factor, 1.3871.
   */
  private static final int SURE_SUM = 32767 * 10000 / (4 * 13871);

  /** T.81, figure 5: the place of each coefficient of the zigzag, 8 v + u. */
  private static final int[] PLACES = places();

  private final Layout layout;
  private final int groups;
  private final InverseTransform transform = new InverseTransform();

  /** The array of each coefficient of the zigzag. */
  private final int[][] lineOf = new int[64][];

  /** Of each component, a coefficient's quantisation and, in the lower half, its offset. */
  private final int[][] places;

  private final int[] amounts = new int[BATCH];

  RowTransform(Layout layout) {
    this.layout = layout;
    this.groups = Samples.groups(layout);
    places = new int[layout.quantisation().length][64];
    for (int k = 0; k < 64; k++) {
      lineOf[k] = transform.coefficients()[PLACES[k] >> 3];
      for (int c = 0; c < places.length; c++) {
        places[c][k] = layout.quantisation()[c][k] << 16 | (PLACES[k] & 7) * BATCH;
      }
    }
  }

  private static int[] places() {
    int[] places = new int[64];
    int u = 0;
    int v = 0;
    for (int k = 0; k < 64; k++) {
      places[k] = 8 * v + u;
      boolean up = (u + v) % 2 == 0;
      if (up ? u == 7 : v == 7) {
        // At the right or lower edge: along it.
        u += up ? 0 : 1;
        v += up ? 1 : 0;
      } else if (up ? v == 0 : u == 0) {
        u += up ? 1 : 0;
        v += up ? 0 : 1;
      } else {
        u += up ? 1 : -1;
        v += up ? -1 : 1;
      }
    }
    return places;
  }

  /**
   * @param pieces what has the row's blocks, in their order
   */
  void run(List<Piece> pieces, Samples into) {
    Layout.Sampling sampling = layout.sampling();
    int perMcu = layout.blocksPerMcu();
    int mcus = layout.mcusPerRow();
    for (int component = 0; component < sampling.components; component++) {
      int[][] plane = into.planes[component];
      for (int line = 0; line < sampling.down(component); line++) {
        int first = sampling.blocksBefore(component) + line * sampling.across(component);
        if (!sampling.isWide(component)) {
          blocks(pieces, component, new Stride(first, perMcu, mcus), plane, 8 * line, 0);
        } else if (sampling.across == 2) {
          blocks(pieces, component, new Stride(first, perMcu, mcus), plane, 8 * line, 0);
          blocks(pieces, component, new Stride(first + 1, perMcu, mcus), plane, 8 * line, 1);
        } else {
          Stride left = new Stride(first, 2 * perMcu, (mcus + 1) / 2);
          Stride right = new Stride(first + perMcu, 2 * perMcu, mcus / 2);
          blocks(pieces, component, left, plane, 8 * line, 0);
          blocks(pieces, component, right, plane, 8 * line, 1);
        }
      }
    }
  }

  /** Blocks of the row's codes, each as far from the one before. */
  private record Stride(int first, int step, int count) {}

  /**
   * @param top the first row of the plane that the blocks fill
   * @param half 0 for the first eight columns of every group, 1 for the others
   */
  private void blocks(
      List<Piece> pieces, int component, Stride stride, int[][] plane, int top, int half) {
    int next = 0;
    Piece piece = pieces.get(next++);
    for (int start = 0; start < stride.count; start += BATCH) {
      int blocks = Math.min(BATCH, stride.count - start);
      transform.clear();
      for (int i = 0; i < blocks; i++) {
        int coded = stride.first + (start + i) * stride.step;
        while (coded >= piece.to()) {
          piece = pieces.get(next++);
        }
        spread(piece, coded - piece.from() + piece.local(), component, i);
      }
      check(blocks);
      int[][] packed = transform.run(layout.sampling().isWide(component) ? 4 : 2);
      for (int run = 0; run < packed.length; run++) {
        int at = (2 * half + run) * groups + start;
        for (int y = 0; y < 8; y++) {
          System.arraycopy(packed[run], y * BATCH, plane[top + y], at, blocks);
        }
      }
    }
  }

  private void spread(Piece piece, int local, int component, int column) {
    Chunk chunk = piece.chunk();
    if (local <= piece.brokenUpTo()) {
      throw new Doubt("bits that are no code");
    }
    int[] tokens = chunk.tokens;
    int[][] lineOf = this.lineOf;
    int[] places = this.places[component];
    int first = chunk.firstToken[local];
    int end = chunk.firstToken[local + 1];
    int dc = (short) ((tokens[first] >> 16) + piece.dc()[component]);
    lineOf[0][column] = dc * (places[0] >> 16);
    for (int i = first + 1; i < end; i++) {
      int token = tokens[i];
      int place = places[token & 63];
      lineOf[token & 63][(place & 0xffff) + column] = (token >> 16) * (place >> 16);
    }
  }

  private void check(int blocks) {
    transform.amounts(amounts);
    for (int i = 0; i < blocks; i++) {
      if (amounts[i] > SURE_SUM && !fits(i)) {
        throw new Doubt("coefficients that a picture of 8 bits does not have");
      }
    }
  }

  /** Whether 16 bits hold the sums of each row between the passes, worked out for one block. */
  private boolean fits(int column) {
    int[][] lines = transform.coefficients();
    double[][] half = new double[8][8];
    for (int u = 0; u < 8; u++) {
      double amount = 0;
      for (int v = 0; v < 8; v++) {
        double value = lines[v][u * BATCH + column];
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
